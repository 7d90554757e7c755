"""Putting what this tablet sealed into the share, and looking whether it is still there.

A share that took a file may have lost it: until another machine has said that it holds a
segment, its bytes are read again now and then, and put again where they are proved wrong. A
file that can't be read proves nothing; nor does one look at a file that is not seen.
"""

from collections.abc import Callable, Iterable, Sequence

from sync.folder import NotThere, NotYet
from sync.head import Head, branch_to
from sync.meeting import Meeting
from sync.names import HEADS, HeadName, SegmentName, identity, short_hash
from sync.pulling import LARGEST_FILE
from sync.tablet_identity import TabletIdentity, read_tablet_identity

AUDITED_AFTER_S = 60.0
"""Younger files would be read from this machine's own memory of them."""
AUDITED_AT_ONCE = 20
NOTED_AT_ONCE = 50
"""So many segments are put again, which costs a look each, when this is killed before the note."""


def push(meeting: Meeting) -> None:
    """Put every own segment that the share does not have, then the heads."""
    for tablet in meeting.holdings.own_tablets():
        row = [held.name for held in meeting.holdings.rows().get(tablet, ())]
        _put_again_what_the_share_forgot(meeting, tablet)
        published = meeting.holdings.published()
        missing = [name for name in row if name not in published]
        if missing:
            _put_row(meeting, tablet, missing)
        if row:
            _put_heads(meeting, tablet)


def audit(meeting: Meeting) -> None:
    """Read again what nobody has acknowledged; put again what is proved lost or torn."""
    acknowledged, now_s = meeting.holdings.acknowledged(), meeting.now_s()
    due = sorted(
        (at_s, name)
        for name, at_s in meeting.holdings.published().items()
        if name not in acknowledged and not 0 <= now_s - at_s < AUDITED_AFTER_S
    )
    names = [name for _, name in due[:AUDITED_AT_ONCE]]
    for tablet in sorted({name.tablet for name in names}):
        put_identity_again_if_bad(meeting, tablet)
    for name in names:
        put_again_if_bad(meeting, name)
        meeting.holdings.set_published([name], now_s)


def put_again_if_bad(meeting: Meeting, name: SegmentName) -> None:
    """Read a segment that is held here from the share, and mend it there if it is bad."""
    content = meeting.holdings.content(name)
    if content is None or not is_proved_bad(meeting, name.path, bytes_of(name.hash16)):
        return
    put_identity_again_if_bad(meeting, name.tablet)
    if meeting.put(name.path, content):
        meeting.holdings.note_good(name.path)
        meeting.outcome.repaired.append(name.path)


def put_identity_again_if_bad(meeting: Meeting, tablet: str) -> None:
    """Look at a tablet's certificate in the share: without it nobody can verify its segments.

    Its name carries no hash. Any that is genuine stays, or two holders of two that are would
    put theirs there in turns for ever.
    """
    known = meeting.holdings.identity(tablet)
    if known is not None and is_proved_bad(
        meeting,
        identity(tablet),
        lambda content: read_tablet_identity(tablet, content) is not None,
    ):
        meeting.put(identity(tablet), known.content())


def bytes_of(hash16: str) -> Callable[[bytes], bool]:
    """Give what tells whether bytes are those of a hash."""
    return lambda content: short_hash(content) == hash16


def is_proved_bad(
    meeting: Meeting, path: str, is_good: Callable[[bytes], bool], largest: int = LARGEST_FILE
) -> bool:
    """Whether a file of the share surely has not the bytes that it should have.

    A machine that remembers for a while that something is not there may be wrong: the folder
    must not show it either.
    """
    try:
        content = meeting.folder.read(path, at_most=largest)
    except NotYet:
        return False
    except NotThere:
        folder, _, file = path.rpartition("/")
        shown = any(it.name == file for it in meeting.look(folder))
        return not shown and folder not in meeting.outcome.cut_short
    return not is_good(content)


def _put_again_what_the_share_forgot(meeting: Meeting, tablet: str) -> None:
    """Count as not put what no head leads to that the share shows of our row.

    A share that was brought back from a backup, or emptied, gets everything once more.
    """
    if HEADS in meeting.outcome.cut_short:
        return
    led_to = _led_to(meeting, tablet)
    forgotten = [
        name
        for name in meeting.holdings.published()
        if name.tablet == tablet and name not in led_to
    ]
    if forgotten:
        meeting.holdings.set_published(forgotten, None)


def _led_to(meeting: Meeting, tablet: str) -> set[SegmentName]:
    """Give what the shown heads of a row lead back to, and all that is older than a hole."""
    row = meeting.holdings.rows().get(tablet, ())
    before = {it.name: it.before for it in row}
    found: set[SegmentName] = set()
    for head in meeting.heads:
        name: SegmentName | None = head.segment
        if name not in before:
            continue
        while name in before and name not in found:
            found.add(name)
            name = before[name]
        if name is not None and name not in before:
            found |= {it for it in before if it.seq < name.seq}
    return found


def _put_row(meeting: Meeting, tablet: str, missing: Sequence[SegmentName]) -> None:
    """Put segments, the oldest first; one that something stands in the way of waits."""
    if not meeting.put(identity(tablet), _certificate(meeting, tablet).content()):
        return
    for first in range(0, len(missing), NOTED_AT_ONCE):
        _put_some(meeting, missing[first : first + NOTED_AT_ONCE], first, len(missing))


def _put_some(meeting: Meeting, names: Sequence[SegmentName], done: int, of: int) -> None:
    """Put some segments and note in one step which are there, also where the share went."""
    there: list[SegmentName] = []
    try:
        for number, name in enumerate(names, start=done):
            content = meeting.holdings.content(name)
            assert content is not None  # noqa: S101 - it stands in the row
            meeting.step("sending", number, of, len(content))
            if meeting.put(name.path, content):
                there.append(name)
    finally:
        if there:
            meeting.holdings.set_published(there, meeting.now_s())
            meeting.outcome.sent.extend(there)


def _put_heads(meeting: Meeting, tablet: str) -> None:
    """Put a head for the end of each branch of the row; take older ones away but the last."""
    held = meeting.holdings.rows()[tablet]
    followed, ours = {it.before for it in held}, {it.name for it in held}
    ends = {it.name for it in held if it.name not in followed}
    published = meeting.holdings.published()
    shown = {it.segment for it in meeting.heads}
    for end in sorted(ends - shown):
        if end in published:
            _put_head(meeting, end)
    older = [it for it in meeting.heads if it.segment in ours - ends]
    _take_away(meeting, sorted(older)[:-1])


def _put_head(meeting: Meeting, end: SegmentName) -> None:
    """Put a head; one of a row whose key we don't go by any more stays unsigned."""
    held = meeting.holdings.rows()[end.tablet]
    trust = meeting.holdings.trust().number
    head = Head.of_row(branch_to(held, end), trust=trust, program=meeting.program)
    if end.tablet == meeting.tablet():
        head = head.signed(meeting.holdings.tablet_key())
    if meeting.put(head.name.path, head.content()):
        meeting.heads.add(head.name)


def _take_away(meeting: Meeting, heads: Iterable[HeadName]) -> None:
    for head in heads:
        if not meeting.outcome.only_read and meeting.remove(head.path):
            meeting.heads.discard(head)


def _certificate(meeting: Meeting, tablet: str) -> TabletIdentity:
    known = meeting.holdings.identity(tablet)
    assert known is not None  # noqa: S101 - it was kept with the key
    return known


def keep_own_certificate(meeting: Meeting) -> None:
    """Make this tablet's certificate from its key when none was kept before."""
    if meeting.holdings.identity(meeting.tablet()) is None:
        meeting.holdings.keep_identity(TabletIdentity.of_key(meeting.holdings.tablet_key()))
