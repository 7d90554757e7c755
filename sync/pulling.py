"""Taking in what others sealed: found by the heads, fetched, verified, kept.

What a segment names as the one before it says which file is missing, so a row is followed
back from its head, a folder at a time, until it meets what is held. A file that can't be read
leaves a hole; the rest is taken in all the same, and the hole is asked for again each time.
"""

from collections import defaultdict
from collections.abc import Iterable

from sync.folder import NotThere, NotYet
from sync.head import LONGEST as LONGEST_HEAD
from sync.head import Head, read_head
from sync.holdings import Held, MetBad
from sync.meeting import Meeting
from sync.names import HeadName, SegmentName, bucket, identity, short_hash
from sync.opening import Sealed
from sync.segment import LARGEST_RAW_BYTES, BrokenSegment, Segment
from sync.tablet_identity import LONGEST as LONGEST_IDENTITY
from sync.tablet_identity import TabletIdentity, read_tablet_identity
from sync.visit import Visit

ARRIVING_S = 15 * 60
ARRIVING_TRIES = 3
"""A file may be still on its way: it is told of as bad after so many tries and so long."""
MISSING = "it is not there"
MISSED_S = 24 * 3600
"""A cloud's client brings files in any order, heads first or last: none is missed before a day."""

LARGEST_FILE = LARGEST_RAW_BYTES + 8192


def pull(visit: Visit) -> None:
    """Take in everything that the heads lead to and that is not held."""
    by_tablet = _by_tablet(visit.heads)
    rows = visit.holdings.rows()
    visit.to_read = sum(
        max(0, max(heads).seq - len(rows.get(tablet, ()))) for tablet, heads in by_tablet.items()
    )
    visit.has_read()  # whoever stops it here is heard, also where nothing is new
    for tablet in sorted(by_tablet):
        if _lacks_something(rows.get(tablet, ()), by_tablet[tablet]):
            visit.has_read()
            _pull_row(visit, tablet, sorted(by_tablet[tablet]))


def remember_own(meeting: Meeting) -> None:
    """Read back what the share shows of rows that we sealed by a former key and don't remember.

    A tablet that was brought back from a backup goes on by a new key. What it sealed by the
    old one after the backup comes back before anything is sent: else it would look as if the
    share had forgotten all of that row to which no head leads.
    """
    by_tablet = _by_tablet(meeting.heads)
    for tablet in meeting.holdings.own_tablets()[:-1]:
        _pull_row(meeting, tablet, sorted(by_tablet.get(tablet, ())))


def notice_another_of_us(meeting: Meeting) -> None:
    """Take a new key where the share shows a segment of our row that we never sealed.

    A cloned tablet, or one restored from a backup, would else go on with numbers that are
    taken. Both branches stay; what we don't remember is read back like anybody's. A file's
    name alone proves nothing: anybody can make one up.
    """
    tablet = meeting.tablet()
    heads = sorted(it for it in meeting.heads if it.tablet == tablet)
    if all(head.segment in meeting.held(tablet) for head in heads):
        return
    _pull_row(meeting, tablet, heads)
    unheld = [head for head in heads if head.segment not in meeting.held(tablet)]
    if tablet == meeting.tablet() and any(_body(meeting, head) for head in unheld):
        meeting.take_new_identity()


def _by_tablet(heads: Iterable[HeadName]) -> dict[str, list[HeadName]]:
    found: dict[str, list[HeadName]] = defaultdict(list)
    for head in heads:
        found[head.tablet].append(head)
    return found


def fetch(visit: Visit, name: SegmentName, *, lying_at: str | None = None) -> bool:
    """Read one segment, verify it and keep it; tell whether it is held now.

    It may lie under another name, given by a cloud's client to a copy that it could not place.
    """
    found = _found(visit, name, lying_at or name.path)
    return found is not None and _keep(visit, found.name, found.opened())


def fetch_all(visit: Visit, names: Iterable[SegmentName]) -> set[SegmentName]:
    """Read segments, verify and keep them; give those that are held now."""
    found = (it for name in names if (it := _found(visit, name, name.path)) is not None)
    opened = visit.opener(found)
    return {sealed.name for sealed, it in opened if _keep(visit, sealed.name, it)}


def _found(visit: Visit, name: SegmentName, path: str) -> Sealed | None:
    """Read a segment's bytes, and whose they should be; None where either is not to be had."""
    try:
        content = visit.folder.read(path, at_most=LARGEST_FILE)
    except NotThere:
        visit.missed.add(name)
        visit.outcome.waiting.append(name.path)
        return None
    except NotYet:
        visit.outcome.waiting.append(name.path)
        return None
    if short_hash(content) != name.hash16:
        bad_file(visit, name.path, "its bytes do not fit its name")
        return None
    certificate = _identity(visit, name.tablet)
    if certificate is None:
        visit.outcome.waiting.append(name.path)
        return None
    return Sealed(name, content, certificate.public_key)


def _keep(visit: Visit, name: SegmentName, opened: Segment | BrokenSegment) -> bool:
    if isinstance(opened, BrokenSegment):
        visit.holdings.note_bad([name.path], opened.reason, visit.now_s())
        visit.outcome.refused[name.path] = opened.reason
        return False
    visit.holdings.take_in(opened, name)
    visit.took_in(name, len(opened.lines))
    visit.has_read(len(opened.content))
    return True


def _lacks_something(row: Iterable[Held], heads: Iterable[HeadName]) -> bool:
    held = {it.name for it in row}
    if any(head.segment not in held for head in heads):
        return True
    return any(it.before not in held for it in row if it.name.seq > 1)


def _pull_row(visit: Visit, tablet: str, heads: list[HeadName]) -> None:
    """Fetch what the heads name, those of the newest first; then what they follow."""
    tried = visit.held(tablet)
    unheld = [head for head in heads if head.segment not in tried]
    for head in reversed(unheld):
        named = () if head.segment in tried else _named_by(visit, head)
        untried = [name for name in named if name not in tried]
        tried.update(untried)
        fetch_all(visit, untried)
    if unheld or _before_what_is_held(visit, tablet):
        _fill_holes(visit, tablet)


def _fill_holes(visit: Visit, tablet: str) -> None:
    """Look what lies beside a file that is missing; one that no listing shows is asked for too."""
    tried: set[SegmentName] = set()
    looked_into: set[str] = set()
    while missing := _before_what_is_held(visit, tablet) - tried:
        folders = {bucket(tablet, name.seq) for name in missing} - looked_into
        lying = {name for folder in sorted(folders) for name in _lying_in(visit, tablet, folder)}
        looked_into |= folders
        fetch_all(visit, sorted((lying - visit.held(tablet) | missing) - tried))
        tried |= lying | missing


def _lying_in(visit: Visit, tablet: str, folder: str) -> Iterable[SegmentName]:
    named = (SegmentName.of_file(tablet, it.name) for it in visit.look(folder))
    return (name for name in named if name is not None)


def _before_what_is_held(visit: Visit, tablet: str) -> set[SegmentName]:
    return _missing_before(visit.holdings.rows().get(tablet, ()))


def _missing_before(row: Iterable[Held]) -> set[SegmentName]:
    held = {it.name for it in row}
    return {before for it in row if (before := it.before) is not None} - held


def _named_by(visit: Visit, name: HeadName) -> tuple[SegmentName, ...]:
    """Give the segments that a head names, the oldest first; at least its own."""
    head = _body(visit, name)
    return head.segments() if head else (name.segment,)


def _body(visit: Visit, name: HeadName) -> Head | None:
    """Read what a head says; None where it can't be read, or its tablet never said it."""
    certificate = _identity(visit, name.tablet)
    if certificate is None:
        return None
    try:
        content = visit.folder.read(name.path, at_most=LONGEST_HEAD)
    except (NotThere, NotYet):
        return None
    return read_head(name, content, public_key=certificate.public_key)


def _identity(visit: Visit, tablet: str) -> TabletIdentity | None:
    known = visit.holdings.identity(tablet)
    if known is not None:
        return known
    try:
        content = visit.folder.read(identity(tablet), at_most=LONGEST_IDENTITY)
    except (NotThere, NotYet):
        return None
    found = read_tablet_identity(tablet, content)
    if found is not None:
        visit.holdings.keep_identity(found)
    return found


def bad_file(visit: Visit, path: str, reason: str) -> None:
    """Keep that a file is bad; one that may be still arriving is only waited for."""
    known = visit.holdings.bad_files().get(path)
    if known is not None and known.reason == MISSING:
        visit.holdings.note_good(path)  # it has come at last: from now on it is arriving
    visit.holdings.note_bad([path], reason, visit.now_s())
    if stays_bad(visit.holdings.bad_files()[path], visit.now_s()):
        visit.outcome.refused[path] = reason
    else:
        visit.outcome.waiting.append(path)


def stays_bad(known: MetBad, now_s: float) -> bool:
    """Whether a file was bad or missed so often and for so long that it is not arriving any more.

    Which of the two it was the last time says how long that is.
    """
    patience_s = MISSED_S if known.reason == MISSING else ARRIVING_S
    return known.tries > ARRIVING_TRIES and abs(now_s - known.first_seen_s) > patience_s


def promised(visit: Visit, tablet: str) -> set[SegmentName]:
    """Give the segments of which a tablet's own signature says that it sealed them.

    Held ones name the one before them, and genuine heads the last. A file's name proves
    nothing: anybody can make one up.
    """
    held, missing = visit.held(tablet), _before_what_is_held(visit, tablet)
    heads = sorted(it for it in visit.heads if it.tablet == tablet)
    if not missing and all(it.segment in held for it in heads):
        return set()
    bodies = [head for it in heads if (head := _body(visit, it))]
    return missing | {name for head in bodies for name in head.segments()}
