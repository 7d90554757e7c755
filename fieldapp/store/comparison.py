"""Compares the ledger, entry by entry, with what was sealed, and can put back what differs.

Everything is read in short transactions: a long one would hold up commits.
"""

from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass, field
from typing import Any

from sqlalchemy import Connection, Row, insert, select, update
from sqlalchemy.dialects.sqlite import insert as insert_or

from fieldapp.store.belief import certificate
from fieldapp.store.binding import highest_number
from fieldapp.store.engine import Database
from fieldapp.store.holdings import SqlHoldings
from fieldapp.store.ledger import FILED_BY, row_of
from fieldapp.store.sealing import Sealing
from fieldapp.store.tables import EntryRow, ParentRow, ShareSegmentRow
from schemas.canonical import Unreadable, revision_of
from schemas.entry import Entry, read_entry
from sync.names import SegmentName
from sync.segment import BrokenSegment, Segment, open_segment

_READ_AT_ONCE = 500


@dataclass(frozen=True)
class Correction:
    """An entry as it was sealed or stated, where something else or nothing stands."""

    entry: Entry
    origin: str | None
    counts: bool
    sequence: int | None
    """Where what differs stands; None where nothing is left of it."""
    within: tuple[int, int] | None = None
    """The numbers between which it was, where that is known."""


@dataclass
class Compared:
    """What differs. `unread` is what nothing here can correct: its number, and its heading."""

    corrections: list[Correction] = field(default_factory=list)
    unread: dict[int, str | None] = field(default_factory=dict)

    @property
    def differing(self) -> frozenset[int]:
        """The numbers of the entries that are not what was stated."""
        altered = {it.sequence for it in self.corrections if it.sequence is not None}
        return frozenset(altered | self.unread.keys())


@dataclass(frozen=True)
class _Here:
    """What stands in one row."""

    sequence: int
    entry: Entry | None
    """None where its line is not the one of that revision."""
    of_line: str
    """The revision of the line that stands there."""
    heading: str | None
    origin: str | None
    counts: bool
    is_filed_right: bool


@dataclass(frozen=True)
class _Sealed:
    """An entry in a segment that is what its tablet sealed."""

    line: bytes
    origin: str | None
    counts: bool
    within: tuple[int, int] | None = None


def compare(database: Database, sealing: Sealing, holdings: SqlHoldings) -> Compared:
    """Read everything that is here and everything that was sealed, and find what differs.

    Raises
    ------
    DatabaseDamaged
        It can't be told any more who is believed.
    """
    here = dict(_rows(database))
    strays = {it.of_line: revision for revision, it in here.items() if it.entry is None}
    found = Compared()
    for revision, sealed in _as_sealed(database, sealing, holdings):
        stands = here.pop(revision, None) or here.pop(strays.get(revision, ""), None)
        if stands is None or not _is_as_sealed(stands, sealed):
            found.corrections.append(_correction(stands, sealed, revision))
    for stands in here.values():
        _compare_alone(stands, found)
    return found


def _correction(stands: _Here | None, sealed: _Sealed, revision: str) -> Correction:
    entry = read_entry(sealed.line, source=f"the sealed entry {revision}")
    where = stands.sequence if stands else None
    return Correction(entry, sealed.origin, sealed.counts, where, sealed.within)


def put_back(connection: Connection, compared: Compared) -> None:
    """Put what differs back as it was, in the caller's transaction."""
    taken = set(connection.execute(select(EntryRow.sequence)).scalars())
    free = [it for it in range(1, highest_number(connection) + 1) if it not in taken]
    for it in compared.corrections:
        row = {**row_of(it.entry), "origin": it.origin, "counts": it.counts}
        if it.sequence is not None:
            change = update(EntryRow).where(EntryRow.sequence == it.sequence)
            connection.execute(change.values(row))
        elif (place := _place(free, it.within)) is not None:
            connection.execute(insert(EntryRow).values(sequence=place, **row))
        _put_parents(connection, it.entry)


def _place(free: list[int], within: tuple[int, int] | None) -> int | None:
    """Take the first free number: entries are put back in the order in which they came."""
    for place in free:
        if within is None or within[0] <= place <= within[1]:
            free.remove(place)
            return place
    return None


def _put_parents(connection: Connection, entry: Entry) -> None:
    rows = [{"parent": parent, "child": entry.revision} for parent in entry.parents]
    if rows:
        connection.execute(insert_or(ParentRow).on_conflict_do_nothing(), rows)


def _is_as_sealed(here: _Here, sealed: _Sealed) -> bool:
    if here.entry is None or not here.is_filed_right:
        return False
    if sealed.within is not None:
        return here.origin is None and here.counts
    return here.counts if here.origin is None else here.counts == sealed.counts


def _compare_alone(here: _Here, found: Compared) -> None:
    """Look at an entry that no segment holds; it can still say by itself how it is filed."""
    if here.entry is None:
        found.unread[here.sequence] = here.heading
    elif not here.is_filed_right or (here.origin is None and not here.counts):
        counts = here.counts or here.origin is None
        found.corrections.append(Correction(here.entry, here.origin, counts, here.sequence))


def _rows(database: Database) -> Iterator[tuple[str, _Here]]:
    after = 0
    columns = (EntryRow.sequence, EntryRow.origin, EntryRow.counts, *FILED_BY)
    query = select(*columns).order_by(EntryRow.sequence).limit(_READ_AT_ONCE)
    while True:
        with database.reading() as connection:
            rows = connection.execute(query.where(EntryRow.sequence > after)).all()
        if not rows:
            return
        yield from map(_here, rows)
        after = rows[-1].sequence


def _here(row: Row[*tuple[Any, ...]]) -> tuple[str, _Here]:
    sequence, origin, counts, revision, *_ = row
    line = row.line if isinstance(row.line, bytes) else b""
    entry = _read(line) if revision_of(line) == revision else None
    filed_right = entry is not None and tuple(row)[3:] == tuple(row_of(entry).values())
    of_line = revision_of(line)
    return revision, _Here(
        sequence, entry, of_line, row.heading, origin, counts, is_filed_right=filed_right
    )


def _read(line: bytes) -> Entry | None:
    try:
        return read_entry(line, source="what is kept")
    except Unreadable:
        return None


def _as_sealed(
    database: Database, sealing: Sealing, holdings: SqlHoldings
) -> Iterator[tuple[str, _Sealed]]:
    """Yield each sealed entry once: what this tablet sealed first, then what others did."""
    seen: set[str] = set()
    for segment, first, last in sealing.sound():
        for line in segment.lines:
            seen.add(revision := revision_of(line))
            yield revision, _Sealed(line, None, counts=True, within=(first, last))
    vouched = _vouched(database, holdings)
    for segment, _, origin in _held(database, holdings):
        for line in segment.lines:
            if (revision := revision_of(line)) not in seen:
                seen.add(revision)
                yield revision, _Sealed(line, origin, counts=revision in vouched)


def _vouched(database: Database, holdings: SqlHoldings) -> set[str]:
    with database.reading() as connection:
        vouched = set(holdings.believing(connection).stated)
    for segment, counts, _ in _held(database, holdings):
        vouched.update(map(revision_of, segment.lines if counts else ()))
    return vouched


def _held(database: Database, holdings: SqlHoldings) -> Iterator[tuple[Segment, bool, str | None]]:
    """Yield what others sealed, and this tablet under its former keys, that is so still.

    Each with whether it counts, and where its entries came from.
    """
    row, after = ShareSegmentRow, 0
    query = select(row.number, row.tablet, row.seq, row.hash16, row.content)
    query = query.order_by(row.number).limit(1)
    while True:
        with database.reading() as connection:
            found = connection.execute(query.where(row.number > after)).one_or_none()
            if found is None:
                return
            after, tablet, seq, hash16, content = found
            name = SegmentName(tablet, seq, hash16)
            identity = certificate(connection, tablet)
            believing = holdings.believing(connection)
            counts, origin = believing.counts(name), None if tablet in believing.own else tablet
        if identity is not None:
            with suppress(BrokenSegment):
                segment = open_segment(name.file, content, public_key=identity.public_key)
                yield segment, counts, origin
