"""The bytes of segments that others sealed, and of this tablet's own under its former keys."""

from sqlalchemy import ColumnElement, Connection, delete, func, insert, literal, select

from fieldapp.store.sealing import RECEIPT, sealed_up_to
from fieldapp.store.tables import FormerTabletRow, SegmentRow, ShareSegmentRow
from sync.names import SHORT_HASH, SegmentName
from sync.segment import FIRST_PREVIOUS, Segment


def is_held(connection: Connection, name: SegmentName) -> bool:
    """Tell whether a segment lies with those of the others."""
    query = select(ShareSegmentRow.number).where(*_is(name))
    return connection.execute(query).scalar_one_or_none() is not None


def content_of(connection: Connection, name: SegmentName, own: str) -> bytes | None:
    """Give a held segment's bytes, whoever sealed it."""
    query = select(ShareSegmentRow.content).where(*_is(name))
    found: bytes | None = connection.execute(query).scalar_one_or_none()
    if found is None and name.tablet == own:
        query = select(SegmentRow.content).where(SegmentRow.name == name.file)
        found = connection.execute(query.where(SegmentRow.seq == name.seq)).scalar_one_or_none()
    return found


def _is(name: SegmentName) -> tuple[ColumnElement[bool], ...]:
    row = ShareSegmentRow
    return row.tablet == name.tablet, row.seq == name.seq, row.hash16 == name.hash16


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
