"""Bringing the records of trust from the share, and back where it has lost them."""

from collections.abc import Iterable

from sync.folder import NotThere, NotYet
from sync.meeting import Meeting
from sync.names import TRUST, TrustName, short_hash
from sync.pulling import bad_file
from sync.trust import LONGEST, BrokenTrust


def exchange_trust(meeting: Meeting) -> None:
    """Take in the records that follow, and put back those that the share does not show.

    A share that shows fewer than were seen before was set back, by a backup or by somebody:
    what was seen counts.
    """
    names = {TrustName.of_file(it.name) for it in meeting.folder.listing(TRUST)} - {None}
    shown = frozenset(name for name in names if name is not None)
    _take_in(meeting, shown)
    for name, content in meeting.holdings.trust_records():
        if name not in shown and _is_not_there(meeting, name):
            meeting.outcome.trust_set_back = True
            meeting.put(name.path, content)


def _is_not_there(meeting: Meeting, name: TrustName) -> bool:
    """Whether a record is gone; a listing that leaves it out is no proof."""
    try:
        meeting.folder.read(name.path, at_most=LONGEST)
    except NotThere:
        return True
    except NotYet:
        pass
    return False


def _take_in(meeting: Meeting, shown: Iterable[TrustName]) -> None:
    for name in sorted(shown):
        if name.number == meeting.holdings.trust().number + 1:
            try:
                content = meeting.folder.read(name.path, at_most=LONGEST)
                if short_hash(content) != name.hash16:
                    bad_file(meeting, name.path, "its bytes do not fit its name")
                    continue
                meeting.holdings.take_trust(name, content)
                meeting.holdings.note_good(name.path)
            except (NotThere, NotYet):
                meeting.outcome.waiting.append(name.path)
            except BrokenTrust as error:
                meeting.outcome.refused[name.path] = error.reason
