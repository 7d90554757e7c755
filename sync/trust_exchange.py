"""Bringing the records of trust from the share, and back where it has lost them."""

from collections.abc import Iterable

from sync.folder import NotThere, NotYet
from sync.meeting import Meeting
from sync.names import TRUST, TrustName
from sync.trust import LONGEST, BrokenTrust


def exchange_trust(meeting: Meeting) -> None:
    """Take in the records that follow, and put back those that the share does not show.

    A share that shows fewer than were seen before was set back, by a backup or by somebody:
    what was seen counts.
    """
    names = {TrustName.of_file(it.name) for it in meeting.folder.listing(TRUST)} - {None}
    shown = frozenset(name for name in names if name is not None)
    _take_in(meeting, shown)
    lost = [it for it in meeting.holdings.trust_records() if it[0] not in shown]
    meeting.outcome.trust_set_back = bool(lost)
    if not meeting.outcome.only_read:
        for name, content in lost:
            meeting.folder.put(name.path, content)


def _take_in(meeting: Meeting, shown: Iterable[TrustName]) -> None:
    for name in sorted(shown):
        if name.number == meeting.holdings.trust().number + 1:
            try:
                content = meeting.folder.read(name.path, at_most=LONGEST)
                meeting.holdings.take_trust(name, content)
            except (NotThere, NotYet):
                meeting.outcome.waiting.append(name.path)
            except BrokenTrust as error:
                meeting.outcome.refused[name.path] = error.reason
