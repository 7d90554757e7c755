"""Seals entries into the tablet's segments, in the database, before any share is touched.

What was stated here waits until the last segment reaches past it: segments follow the order
of the ledger and leave out nothing but what others sealed, so that sealing again after a kill
makes the same row of segments go on.
"""

import hashlib
from collections.abc import Iterator, Sequence
from contextlib import suppress

from sqlalchemy import ColumnElement, Connection, Row, ScalarSelect, func, select
from sqlalchemy.dialects.sqlite import insert

from fieldapp.store.engine import Database
from fieldapp.store.high_mark import HighMarks
from fieldapp.store.keys import Keys
from fieldapp.store.tables import EntryRow, FormerTabletRow, SegmentRow
from fieldapp.store.troubles import DatabaseDamaged
from schemas.signatures import SigningKey
from sync.segment import (
    FIRST_PREVIOUS,
    MOST_ENTRIES,
    BrokenSegment,
    Segment,
    check_chain,
    how_many_fit,
    open_segment,
    seal,
)

RECEIPT = "receipt"

_Waiting = Row[int, bytes, str]


class Sealing:
    """The tablet's own row of sealed segments."""

    def __init__(self, database: Database, keys: Keys, marks: HighMarks) -> None:
        self._database = database
        self._keys = keys
        self._marks = marks

    def seal(self) -> tuple[str, ...]:
        """Seal every entry that waits, in one step, and give the new segments' names.

        Then the mark beside the database rises; killed between the two, the next time.
        """
        names: list[str] = []
        if self.waiting():
            with self._database.writing() as connection:
                key = self._keys.tablet_within(connection)
                while waiting := _waiting(connection):
                    names.append(_seal_next(connection, waiting, key))
        self._marks.rise()
        return tuple(names)

    def waiting(self) -> int:
        """Tell how many entries are not sealed yet."""
        with self._database.reading() as connection:
            return connection.execute(_HOW_MANY_WAIT).scalar_one()

    def stated_since(self) -> int:
        """Tell how many of those somebody stated: a word that something was held is none."""
        with self._database.reading() as connection:
            return connection.execute(_HOW_MANY_STATED).scalar_one()

    def segments(self) -> Iterator[tuple[str, bytes]]:
        """Give name and bytes of each segment, in their order."""
        return ((name, content) for name, content, _, _ in self._rows())

    def check(self) -> int:
        """Check the whole row against the tablet's key and the ledger; give its length.

        Raises
        ------
        BrokenSegment
            Names the first segment that is not what was sealed, or doesn't follow.
        DatabaseDamaged
            A segment and the ledger hold different entries.
        """
        public_key = self._keys.tablet().public_key
        opened: list[Segment] = []
        for name, content, first, last in self._rows():
            segment = open_segment(name, content, public_key=public_key)
            if segment.lines != self._lines(first, last):
                reason = f"segment {name} and the ledger hold different entries"
                raise DatabaseDamaged(str(self._database.path), reason)
            opened.append(segment)
        check_chain(opened)
        return len(opened)

    def sound(self) -> Iterator[tuple[Segment, int, int]]:
        """Give the segments that are what was sealed, each with where its entries stand."""
        public_key = self._keys.tablet().public_key
        for name, content, first, last in self._rows():
            with suppress(BrokenSegment):
                yield open_segment(name, content, public_key=public_key), first, last

    def _rows(self) -> Iterator[tuple[str, bytes, int, int]]:
        after = 0
        while row := self._row(after):
            after, name, content, first, last = row
            yield name, content, first, last

    def _row(self, after: int) -> Row[int, str, bytes, int, int] | None:
        query = (
            select(
                SegmentRow.seq,
                SegmentRow.name,
                SegmentRow.content,
                SegmentRow.first_sequence,
                SegmentRow.last_sequence,
            )
            .where(SegmentRow.seq > after)
            .order_by(SegmentRow.seq)
            .limit(1)
        )
        with self._database.reading() as connection:
            return connection.execute(query).one_or_none()

    def _lines(self, first: int, last: int) -> tuple[bytes, ...]:
        between = EntryRow.sequence.between(first, last)
        query = select(EntryRow.line).where(between, EntryRow.origin.is_(None))
        with self._database.reading() as connection:
            return tuple(connection.execute(query.order_by(EntryRow.sequence)).scalars())


def sealed_up_to() -> ScalarSelect[int]:
    """Give the place in the ledger up to which everything stated here is sealed."""
    present = select(func.coalesce(func.max(SegmentRow.last_sequence), 0)).scalar_subquery()
    former = select(func.coalesce(func.max(FormerTabletRow.sealed_up_to), 0)).scalar_subquery()
    return select(func.max(present, former)).scalar_subquery()


def is_waiting() -> tuple[ColumnElement[bool], ...]:
    """Give what holds of an entry that waits to be sealed."""
    return EntryRow.sequence > sealed_up_to(), EntryRow.origin.is_(None)


_WAITS = is_waiting()
_HOW_MANY_WAIT = select(func.count()).where(*_WAITS)
_HOW_MANY_STATED = _HOW_MANY_WAIT.where(EntryRow.kind != RECEIPT)


def _waiting(connection: Connection) -> Sequence[_Waiting]:
    query = select(EntryRow.sequence, EntryRow.line, EntryRow.kind).where(*_WAITS)
    return connection.execute(query.order_by(EntryRow.sequence).limit(MOST_ENTRIES)).all()


def _seal_next(connection: Connection, waiting: Sequence[_Waiting], key: SigningKey) -> str:
    sealed = waiting[: how_many_fit([len(it.line) for it in waiting])]
    seq, prev = _next_place(connection)
    segment = seal([it.line for it in sealed], key=key, seq=seq, prev=prev)
    row = {
        "seq": seq,
        "name": segment.name,
        "first_sequence": sealed[0].sequence,
        "last_sequence": sealed[-1].sequence,
        "content": segment.content,
        "only_receipts": all(it.kind == RECEIPT for it in sealed),
    }
    connection.execute(insert(SegmentRow), row)
    return segment.name


def _next_place(connection: Connection) -> tuple[int, str]:
    """Give the next segment's number, and the hash of the one before it."""
    query = select(SegmentRow.seq, SegmentRow.content).order_by(SegmentRow.seq.desc()).limit(1)
    found = connection.execute(query).one_or_none()
    if found is None:
        return 1, FIRST_PREVIOUS
    seq, content = found
    return seq + 1, hashlib.sha256(content).hexdigest()
