"""Putting what this tablet sealed into the share, and looking whether it is still there.

A share that took a file may have lost it: until another machine has said that it holds a
segment, its bytes are read again now and then, and put again where they are proved wrong. A
file that can't be read proves nothing.
"""

from collections.abc import Sequence

from sync.folder import NotThere, NotYet
from sync.head import Head, branch_to
from sync.meeting import Meeting
from sync.names import SegmentName, identity, short_hash
from sync.pulling import LARGEST_FILE
from sync.segment import tablet_id
from sync.tablet_identity import TabletIdentity

AUDITED_AFTER_S = 60.0
"""Younger files would be read from this machine's own memory of them."""
AUDITED_AT_ONCE = 20


def push(meeting: Meeting) -> None:
    """Put every own segment that the share does not have, then the heads."""
    for tablet in meeting.holdings.own_tablets():
        row = [held.name for held in meeting.holdings.rows().get(tablet, ())]
        _put_again_what_the_share_forgot(meeting, row)
        published = meeting.holdings.published()
        missing = [name for name in row if name not in published]
        if missing and _put_row(meeting, tablet, missing):
            _put_heads(meeting, tablet)


def audit(meeting: Meeting) -> None:
    """Read again what nobody has acknowledged; put again what is proved lost or torn."""
    acknowledged, now_s = meeting.holdings.acknowledged(), meeting.now_s()
    due = sorted(
        (at_s, name)
        for name, at_s in meeting.holdings.published().items()
        if name not in acknowledged and now_s - at_s >= AUDITED_AFTER_S
    )
    for _, name in due[:AUDITED_AT_ONCE]:
        put_again_if_bad(meeting, name)
        meeting.holdings.set_published([name], now_s)


def put_again_if_bad(meeting: Meeting, name: SegmentName) -> None:
    """Read a segment that is held here from the share, and mend it there if it is bad."""
    try:
        content = meeting.folder.read(name.path, at_most=LARGEST_FILE)
    except NotYet:
        return
    except NotThere:
        content = b""
    if short_hash(content) != name.hash16:
        put_held(meeting, name)


def put_held(meeting: Meeting, name: SegmentName) -> None:
    """Put a segment back that is held here, whoever sealed it."""
    content = meeting.holdings.content(name)
    certificate = meeting.holdings.identity(name.tablet)
    if content is None or certificate is None:
        return
    meeting.folder.put(identity(name.tablet), certificate.content())
    meeting.folder.put(name.path, content)
    meeting.holdings.note_good(name.path)
    meeting.outcome.repaired.append(name.path)


def _put_again_what_the_share_forgot(meeting: Meeting, row: Sequence[SegmentName]) -> None:
    """Count as not put what lies beyond the head that the share shows of our row.

    A share that was brought back from a backup, or emptied, gets everything once more.
    """
    ours = set(row)
    last = max((it.seq for it in meeting.heads if it.segment in ours), default=0)
    published = meeting.holdings.published()
    forgotten = [name for name in row if name.seq > last and name in published]
    if forgotten:
        meeting.holdings.set_published(forgotten, None)


def _put_row(meeting: Meeting, tablet: str, missing: Sequence[SegmentName]) -> bool:
    """Put segments, the oldest first; tell whether all are there."""
    certificate = meeting.holdings.identity(tablet)
    assert certificate is not None  # noqa: S101 - it was kept with the key
    meeting.folder.put(identity(tablet), certificate.content())
    for done, name in enumerate(missing):
        content = meeting.holdings.content(name)
        assert content is not None  # noqa: S101 - it stands in the row
        meeting.step("sending", done, len(missing), len(content))
        try:
            meeting.folder.put(name.path, content)
        except NotYet:
            meeting.outcome.waiting.append(name.path)
            return False
        meeting.holdings.set_published([name], meeting.now_s())
        meeting.outcome.sent.append(name)
    return True


def _put_heads(meeting: Meeting, tablet: str) -> None:
    """Put a head for the end of each branch of the row; take older ones away but the last."""
    key, held = meeting.holdings.tablet_key(), meeting.holdings.rows()[tablet]
    followed = {it.before for it in held}
    ends = [it.name for it in held if it.name not in followed]
    for end in ends:
        head = Head.of_row(
            branch_to(held, end), trust=meeting.holdings.trust().number, program=meeting.program
        )
        if tablet == tablet_id(key.public_key):
            head = head.signed(key)
        meeting.folder.put(head.name.path, head.content())
        meeting.heads.add(head.name)
    ours = {it.name for it in held}
    older = sorted(it for it in meeting.heads if it.segment in ours and it.segment not in ends)
    for head_name in older[:-1]:
        meeting.folder.remove(head_name.path)
        meeting.heads.discard(head_name)


def own_certificate(meeting: Meeting) -> TabletIdentity:
    """Give this tablet's certificate, made from its key when it was not kept before."""
    key = meeting.holdings.tablet_key()
    known = meeting.holdings.identity(tablet_id(key.public_key))
    if known is None:
        known = TabletIdentity.of_key(key)
        meeting.holdings.keep_identity(known)
    return known
