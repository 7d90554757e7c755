"""Bringing the records of trust from the share, and back where it has lost them."""

from collections.abc import Iterable

from sync.folder import NotThere, NotYet
from sync.meeting import Meeting
from sync.names import TRUST, TrustName, short_hash
from sync.pulling import bad_file
from sync.trust import LONGEST, BrokenTrust
from sync.visit import Visit


def exchange_trust(meeting: Meeting) -> None:
    """Take in the records that follow, and put back those that the share does not show."""
    lost = read_trust(meeting)
    for name, content in meeting.holdings.trust_records():
        if name in lost:
            meeting.put(name.path, content)


def read_trust(visit: Visit) -> frozenset[TrustName]:
    """Take in the records that follow, and give those that are held and gone from the share.

    A share that shows fewer than were seen before was set back, by a backup or by somebody:
    what was seen counts.
    """
    names = {TrustName.of_file(it.name) for it in visit.look(TRUST)} - {None}
    shown = frozenset(name for name in names if name is not None)
    _take_in(visit, shown)
    held = (name for name, _ in visit.holdings.trust_records())
    lost = frozenset(it for it in held if it not in shown and _is_not_there(visit, it))
    visit.outcome.trust_set_back = bool(lost)
    return lost


def _is_not_there(visit: Visit, name: TrustName) -> bool:
    """Whether a record is gone; a listing that leaves it out is no proof."""
    try:
        visit.folder.read(name.path, at_most=LONGEST)
    except NotThere:
        return True
    except NotYet:
        pass
    return False


def _take_in(visit: Visit, shown: Iterable[TrustName]) -> None:
    """Take in what is not held and follows something that is, rivals too."""
    held = {name for name, _ in visit.holdings.trust_records()}
    for name in sorted(it for it in shown if it not in held):
        if name.number <= visit.holdings.trust().number + 1:
            _take_in_one(visit, name)


def _take_in_one(visit: Visit, name: TrustName) -> None:
    try:
        content = visit.folder.read(name.path, at_most=LONGEST)
        if short_hash(content) != name.hash16:
            bad_file(visit, name.path, "its bytes do not fit its name")
            return
        visit.holdings.take_trust(name, content)
        visit.outcome.trust_received.append(name)
        visit.holdings.note_good(name.path)
    except (NotThere, NotYet):
        visit.outcome.waiting.append(name.path)
    except BrokenTrust as error:
        visit.outcome.refused[name.path] = error.reason
