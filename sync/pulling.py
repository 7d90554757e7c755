"""Taking in what others sealed: found by the heads, fetched, verified, kept.

What a segment names as the one before it says which file is missing, so a row is followed
back from its head until it meets what is held. A file that can't be read leaves a hole; the
rest is taken in all the same, and the hole is asked for again with every exchange.
"""

from collections import defaultdict
from collections.abc import Iterable

from sync.belief import segment_counts
from sync.folder import NotThere, NotYet
from sync.head import LONGEST as LONGEST_HEAD
from sync.head import Head, read_head
from sync.meeting import Meeting
from sync.names import HeadName, SegmentName, bucket, identity, short_hash
from sync.segment import LARGEST_RAW_BYTES, BrokenSegment, open_segment
from sync.tablet_identity import LONGEST as LONGEST_IDENTITY
from sync.tablet_identity import TabletIdentity, read_tablet_identity

ARRIVING_S = 15 * 60
ARRIVING_TRIES = 3
"""A file may be still on its way: it is told of as bad after so many tries and so long."""

LARGEST_FILE = LARGEST_RAW_BYTES + 8192


def pull(meeting: Meeting) -> None:
    """Take in everything that the heads lead to and that is not held."""
    by_tablet = _by_tablet(meeting.heads)
    held = meeting.holdings.rows()
    meeting.to_read = sum(
        max(0, max(heads).seq - len(held.get(tablet, ()))) for tablet, heads in by_tablet.items()
    )
    for tablet in sorted(by_tablet):
        meeting.has_read()
        _pull_row(meeting, tablet, sorted(by_tablet[tablet]))


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


def fetch(meeting: Meeting, name: SegmentName, *, lying_at: str | None = None) -> bool:
    """Read one segment, verify it and keep it; tell whether it is held now.

    It may lie under another name, given by a cloud's client to a copy that it could not place.
    """
    try:
        content = meeting.folder.read(lying_at or name.path, at_most=LARGEST_FILE)
    except (NotThere, NotYet):
        meeting.outcome.waiting.append(name.path)
        return False
    if short_hash(content) != name.hash16:
        bad_file(meeting, name.path, "its bytes do not fit its name")
        return False
    certificate = _identity(meeting, name.tablet)
    if certificate is None:
        meeting.outcome.waiting.append(name.path)
        return False
    return _take_in(meeting, name, content, certificate)


def _take_in(
    meeting: Meeting, name: SegmentName, content: bytes, certificate: TabletIdentity
) -> bool:
    try:
        segment = open_segment(name.file, content, public_key=certificate.public_key)
        entries = segment.entries
    except BrokenSegment as error:
        meeting.holdings.note_bad(name.path, error.reason, meeting.now_s())
        meeting.outcome.refused[name.path] = error.reason
        return False
    meeting.holdings.take_in(segment, name)
    meeting.holdings.note_good(name.path)
    if name.tablet in meeting.holdings.own_tablets():
        meeting.holdings.set_published([name], meeting.now_s())
    if name.tablet == meeting.tablet():
        meeting.take_new_identity()
    meeting.outcome.received.append(name)
    meeting.outcome.entries_received += len(entries)
    held = meeting.holdings
    row = held.rows().get(name.tablet, ())
    if not segment_counts(held.trust(), held.identity, name, row):
        meeting.outcome.unverified.add(name.tablet)
    meeting.has_read(len(content))
    return True


def _pull_row(meeting: Meeting, tablet: str, heads: list[HeadName]) -> None:
    """Fetch what the heads name, those of the newest first; then what they follow."""
    tried = meeting.held(tablet)
    unheld = [head for head in heads if head.segment not in tried]
    for head in reversed(unheld):
        named = () if head.segment in tried else _named_by(meeting, head)
        for name in named:
            if name not in tried:
                tried.add(name)
                fetch(meeting, name)
    if unheld or _before_what_is_held(meeting, tablet):
        _fill_holes(meeting, tablet)


def _fill_holes(meeting: Meeting, tablet: str) -> None:
    """Follow the row back; where that ends at a file that can't be read, look what else lies."""
    tried: set[SegmentName] = set()
    while missing := _before_what_is_held(meeting, tablet) - tried:
        tried |= missing
        for name in sorted(missing, reverse=True):
            fetch(meeting, name)
    for folder in sorted({bucket(tablet, name.seq) for name in tried}):
        for listed in meeting.folder.listing(folder) if tried else ():
            named = SegmentName.of_file(tablet, listed.name)
            if named and named not in tried and named not in meeting.held(tablet):
                fetch(meeting, named)


def _before_what_is_held(meeting: Meeting, tablet: str) -> set[SegmentName]:
    rows = meeting.holdings.rows().get(tablet, ())
    held = {it.name for it in rows}
    return {before for it in rows if (before := it.before) is not None} - held


def _named_by(meeting: Meeting, name: HeadName) -> tuple[SegmentName, ...]:
    """Give the segments that a head names, the oldest first; at least its own."""
    head = _body(meeting, name)
    return head.segments() if head else (name.segment,)


def _body(meeting: Meeting, name: HeadName) -> Head | None:
    """Read what a head says; None where it can't be read, or its tablet never said it."""
    certificate = _identity(meeting, name.tablet)
    if certificate is None:
        return None
    try:
        content = meeting.folder.read(name.path, at_most=LONGEST_HEAD)
    except (NotThere, NotYet):
        return None
    return read_head(name, content, public_key=certificate.public_key)


def _identity(meeting: Meeting, tablet: str) -> TabletIdentity | None:
    known = meeting.holdings.identity(tablet)
    if known is not None:
        return known
    try:
        content = meeting.folder.read(identity(tablet), at_most=LONGEST_IDENTITY)
    except (NotThere, NotYet):
        return None
    found = read_tablet_identity(tablet, content)
    if found is not None:
        meeting.holdings.keep_identity(found)
    return found


def bad_file(meeting: Meeting, path: str, reason: str) -> None:
    """Keep that a file is bad; one that may be still arriving is only waited for."""
    meeting.holdings.note_bad(path, reason, meeting.now_s())
    known = meeting.holdings.bad_files()[path]
    if known.tries > ARRIVING_TRIES and abs(meeting.now_s() - known.first_seen_s) > ARRIVING_S:
        meeting.outcome.refused[path] = reason
    else:
        meeting.outcome.waiting.append(path)
