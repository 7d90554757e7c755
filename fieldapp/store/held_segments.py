"""The bytes of segments that others sealed, and of this tablet's own under its former keys."""

from dataclasses import asdict

from sqlalchemy import Connection, bindparam, delete, func, insert, literal, select

from fieldapp.store.sealing import RECEIPT, sealed_up_to
from fieldapp.store.tables import FormerTabletRow, SegmentRow, ShareSegmentRow
from sync.names import SHORT_HASH, SegmentName
from sync.segment import FIRST_PREVIOUS, Segment

_ITS = (
    ShareSegmentRow.tablet == bindparam("tablet"),
    ShareSegmentRow.seq == bindparam("seq"),
    ShareSegmentRow.hash16 == bindparam("hash16"),
)
_NUMBER = select(ShareSegmentRow.number).where(*_ITS)
_CONTENT = select(ShareSegmentRow.content).where(*_ITS)
_OWN_CONTENT = select(SegmentRow.content).where(
    SegmentRow.name == bindparam("name"), SegmentRow.seq == bindparam("seq")
)


def is_held(connection: Connection, name: SegmentName) -> bool:
    """Tell whether a segment lies with those of the others."""
    found = connection.execute(_NUMBER, asdict(name))
    return found.scalar_one_or_none() is not None


def content_of(connection: Connection, name: SegmentName, own: str) -> bytes | None:
    """Give a held segment's bytes, whoever sealed it."""
    found: bytes | None = connection.execute(_CONTENT, asdict(name)).scalar_one_or_none()
    if found is None and name.tablet == own:
        its = {"name": name.file, "seq": name.seq}
        found = connection.execute(_OWN_CONTENT, its).scalar_one_or_none()
    return found


def put_segment(connection: Connection, segment: Segment, name: SegmentName, counts: bool) -> int:  # noqa: FBT001 - one column of several
    """Keep a segment that another tablet sealed; give its number."""
    row = {
        "tablet": name.tablet,
        "seq": name.seq,
        "hash16": name.hash16,
        "before16": segment.header.prev[:SHORT_HASH],
        "size": len(segment.content),
        "only_receipts": all(it.kind == RECEIPT for it in segment.labels),
        "counts": counts,
        "content": segment.content,
    }
    new = insert(ShareSegmentRow).values(row).returning(ShareSegmentRow.number)
    return connection.execute(new).scalar_one()


def give_up_row(connection: Connection, tablet: str) -> None:
    """Lay this tablet's row with those of the others, under the id that it had until now."""
    _remember(connection, tablet)
    row = SegmentRow
    first, length = len("00000001-") + 1, SHORT_HASH
    hash16 = func.substr(row.name, first, length)
    before16 = func.lag(hash16, 1, FIRST_PREVIOUS[:SHORT_HASH]).over(order_by=row.seq)
    moved = select(
        literal(tablet),
        row.seq,
        hash16,
        before16,
        func.length(row.content),
        row.only_receipts,
        literal(1),
        row.content,
    ).order_by(row.seq)
    columns = "tablet seq hash16 before16 size only_receipts counts content"
    connection.execute(insert(ShareSegmentRow).from_select(columns.split(), moved))
    connection.execute(delete(SegmentRow))


def _remember(connection: Connection, tablet: str) -> None:
    up_to = connection.execute(select(sealed_up_to())).scalar_one()
    connection.execute(insert(FormerTabletRow).values(tablet=tablet, sealed_up_to=up_to))
