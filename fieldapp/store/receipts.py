"""What tablets say they hold of each other's segments, as entries."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import asdict
from datetime import datetime

from pydantic import ValidationError
from sqlalchemy import Connection, or_, select, union
from sqlalchemy.dialects.sqlite import insert

from fieldapp.store.own_words import moments, own_word
from fieldapp.store.sealing import RECEIPT
from fieldapp.store.tables import HERE, AcknowledgedRow, PhotoWordRow, SegmentRow, ShareSegmentRow
from schemas.bodies.receipt import MOST_HELD, HeldSegment, Receipt
from schemas.entry import Entry
from sync.names import SegmentName

_SAID = (
    select(AcknowledgedRow.tablet, AcknowledgedRow.seq, AcknowledgedRow.hash16)
    .outerjoin(ShareSegmentRow, ShareSegmentRow.number == AcknowledgedRow.said_in)
    .where(or_(AcknowledgedRow.said_in == HERE, ShareSegmentRow.counts))
)
_ONLY_WORDS = select(ShareSegmentRow.tablet, ShareSegmentRow.seq, ShareSegmentRow.hash16).where(
    ShareSegmentRow.only_receipts
)
_ACKNOWLEDGED = union(_SAID, _ONLY_WORDS)
_OUR_WORDS = select(SegmentRow.name).where(SegmentRow.only_receipts)


def receipts(
    connection: Connection,
    names: Sequence[SegmentName],
    *,
    tablet: str,
    now: datetime,
    random_bytes: Callable[[int], bytes],
) -> Sequence[Entry]:
    """Write the entries in which a tablet says that it holds segments, without keeping them."""
    bodies = [
        Receipt(holds=tuple(map(_held, names[start : start + MOST_HELD])))
        for start in range(0, len(names), MOST_HELD)
    ]
    return _written(connection, bodies, tablet=tablet, now=now, random_bytes=random_bytes)


def photo_receipts(
    connection: Connection,
    hashes: Sequence[str],
    *,
    tablet: str,
    now: datetime,
    random_bytes: Callable[[int], bytes],
) -> Sequence[Entry]:
    """Write the entries in which a tablet says that it holds photos, without keeping them."""
    bodies = [
        Receipt(photos=tuple(hashes[start : start + MOST_HELD]))
        for start in range(0, len(hashes), MOST_HELD)
    ]
    return _written(connection, bodies, tablet=tablet, now=now, random_bytes=random_bytes)


def _written(
    connection: Connection,
    bodies: Sequence[Receipt],
    *,
    tablet: str,
    now: datetime,
    random_bytes: Callable[[int], bytes],
) -> Sequence[Entry]:
    at = moments(connection, tablet, now)
    return [own_word(RECEIPT, body, next(at), random_bytes) for body in bodies]


def put_words(connection: Connection, tablet: str, entries: Sequence[Entry], said_in: int) -> None:
    """Keep what a segment's entries acknowledge; nobody acknowledges their own segments."""
    rows = [
        {**asdict(name), "said_in": said_in}
        for entry in entries
        if entry.kind == RECEIPT
        for name in _named_in(entry)
        if name.tablet != tablet
    ]
    if rows:
        connection.execute(insert(AcknowledgedRow).on_conflict_do_nothing(), rows)
    photos = [
        {"sha256": sha256, "said_in": said_in}
        for entry in entries
        if entry.kind == RECEIPT
        for sha256 in _read(entry).photos
    ]
    if photos:
        connection.execute(insert(PhotoWordRow).on_conflict_do_nothing(), photos)


def acknowledged(connection: Connection, own: str) -> frozenset[SegmentName]:
    """Give what somebody believed says to hold, and what nobody has to say it of."""
    rows = connection.execute(_ACKNOWLEDGED).all()
    ours = (SegmentName.of_file(own, it) for it in connection.execute(_OUR_WORDS).scalars())
    return frozenset(SegmentName(*it) for it in rows) | {it for it in ours if it is not None}


def _held(name: SegmentName) -> HeldSegment:
    return HeldSegment(**asdict(name))


def _named_in(receipt: Entry) -> Iterable[SegmentName]:
    return (SegmentName(it.tablet, it.seq, it.hash16) for it in _read(receipt).holds)


def _read(receipt: Entry) -> Receipt:
    """Read a receipt; one that only a newer version can read says nothing here."""
    try:
        return Receipt.model_validate(receipt.body)
    except ValidationError:
        return Receipt()
