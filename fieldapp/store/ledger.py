"""The ledger of entries in one database: their bytes, and a few columns to find them by."""

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from datetime import datetime
from typing import Any, TypeAlias

from sqlalchemy import ColumnElement, Connection, Row, exists, func, select, true
from sqlalchemy.orm import aliased

from fieldapp.store.binding import adding
from fieldapp.store.dialects import Likely, is_one_of, put_rows
from fieldapp.store.filing import filed
from fieldapp.store.kept_trust import KeptTrust
from fieldapp.store.pairing import NotPaired
from fieldapp.store.tables import BeliefRow, EntryRow, ParentRow
from fieldapp.store.transactions import Transactions
from fieldapp.store.troubles import DatabaseDamaged
from schemas.canonical import Unreadable
from schemas.entry import Entry, read_again
from schemas.logical_clock import LogicalTime, farthest_followed
from sync.labels import Label, label_of
from sync.ledger import Kept, Ledger, LedgerState, Named

_READ_AT_ONCE = 500
"""So many rows are fetched in one short transaction: a long one would hold up commits."""

_Row: TypeAlias = Row[*tuple[Any, ...]]


class SqlLedger(Ledger):
    """A ledger in one database.

    What was added is on the disk when `add` returns. Every line is checked against its
    revision each time it is read; `DatabaseDamaged` tells of one that is not what it was.
    """

    def __init__(self, database: Transactions, trust: KeptTrust | None = None) -> None:
        self._database = database
        self._trust = trust or KeptTrust(database.place)
        self._left_out: frozenset[int] = frozenset()

    def leave_out(self, sequences: frozenset[int]) -> None:
        """Give the entries at these places no more: they are not what was stated."""
        self._left_out = sequences

    def add(self, entries: Iterable[Entry]) -> None:
        """Take in entries, durably and all or none; one that is here already is left alone."""
        with self._database.writing() as connection:
            write_entries(connection, tuple(entries))

    def all(self) -> Iterator[Entry]:
        """Give every entry, oldest first."""
        return (kept.entry for kept in self.after(0))

    def after(self, sequence: int) -> Iterator[Kept]:
        """Give what was taken in after a place, oldest first; from the start after 0."""
        return self._matching(true(), after=sequence)

    def state(self) -> LedgerState:
        """Give the state in which the ledger is now."""
        with self._database.reading() as connection:
            return LedgerState(*connection.execute(_STATE).one())

    def of_kind(self, kind: str) -> Iterator[Entry]:
        """Give the entries of one kind, superseded ones too, oldest first."""
        return (kept.entry for kept in self._counting(EntryRow.kind == kind))

    def of_thing(self, thing_id: str) -> tuple[Entry, ...]:
        """Give all revisions of one thing, oldest first."""
        return tuple(kept.entry for kept in self._counting(EntryRow.thing_id == thing_id))

    def naming(self, kind: str, named: Named, name: str | None) -> Iterator[Entry]:
        """Give all revisions of the things of a kind of which one names this, oldest first."""
        column = {"heading": EntryRow.heading, "round": EntryRow.round}[named]
        of_kind = Likely(EntryRow.kind == kind)  # far more are of a kind than name one thing
        naming = select(EntryRow.thing_id).where(of_kind, column == name, EntryRow.counts)
        wanted = of_kind, EntryRow.thing_id.in_(naming)
        return (kept.entry for kept in self._counting(*wanted))

    def filed(self, kinds: Collection[str]) -> Mapping[str | None, str]:
        """Give what is filed under each heading, the same for the same entries."""
        return filed(self._database, kinds)

    def heads(self, kind: str) -> tuple[Entry, ...]:
        """Give the current revisions of all things of a kind, oldest first."""
        current = self._counting(EntryRow.kind == kind, ~SUPERSEDED)
        return tuple(kept.entry for kept in current)

    def get(self, revision: str) -> Entry | None:
        """Give one entry by its revision, or None when it is not here."""
        return next((kept.entry for kept in self._counting(EntryRow.revision == revision)), None)

    def latest_clock(self, wall_ms: int) -> LogicalTime | None:
        """Give the latest logical time of what was stated here, and of what was heard."""
        with self._database.reading() as connection:
            return latest_clock(connection, wall_ms)

    def origin(self, revision: str) -> str | None:
        """Give the tablet that first brought an entry here; None for what was stated here."""
        query = select(EntryRow.origin).where(EntryRow.revision == revision)
        with self._database.reading() as connection:
            return connection.execute(query).scalar_one_or_none()

    def stated_by_site(self) -> frozenset[str] | None:
        """Give the revisions that stand in the site's records; None where it has no share."""
        with self._database.reading() as connection:
            try:
                return self._trust.at(connection).stated
            except NotPaired:
                return None

    def newest_made_at(self) -> datetime | None:
        """Give the latest time at which any entry says it was made."""
        newest = select(EntryRow.made_at).where(EntryRow.counts)
        newest = newest.order_by(EntryRow.made_at.desc()).limit(1)
        found = next(self._counting(EntryRow.made_at == newest.scalar_subquery()), None)
        return found.entry.made_at if found else None

    def _counting(self, *wanted: ColumnElement[bool]) -> Iterator[Kept]:
        return self._matching(*wanted, EntryRow.counts.is_(True))

    def _matching(self, *wanted: ColumnElement[bool], after: int = 0) -> Iterator[Kept]:
        is_more = True
        while is_more:
            rows = self._rows(wanted, after)
            yield from (self._kept(row) for row in rows if row.sequence not in self._left_out)
            is_more = len(rows) == _READ_AT_ONCE
            after = rows[-1].sequence if rows else after

    def _rows(self, wanted: Sequence[ColumnElement[bool]], after: int) -> Sequence[_Row]:
        query = select(EntryRow.sequence, *FILED_BY).where(EntryRow.sequence > after, *wanted)
        with self._database.reading() as connection:
            found = connection.execute(query.order_by(EntryRow.sequence).limit(_READ_AT_ONCE))
            return found.all()

    def _kept(self, row: _Row) -> Kept:
        source = f"entry {row.sequence}"
        try:
            entry = read_again(row.line, revision=row.revision, source=source)
        except Unreadable as error:
            raise self._damaged(f"{source}: {error.reason}") from error
        if tuple(row)[1:] != _values(label_of(entry), entry.line):
            raise self._damaged(f"{source} is filed as something that it is not")
        return Kept(row.sequence, entry)

    def _damaged(self, reason: str) -> DatabaseDamaged:
        return DatabaseDamaged(self._database.place, reason)


FILED_BY = (
    EntryRow.revision,
    EntryRow.kind,
    EntryRow.thing_id,
    EntryRow.made_at,
    EntryRow.clock,
    EntryRow.heading,
    EntryRow.round,
    EntryRow.line,
)
"""The columns that `row_of` reads out of an entry, in its order."""
_COLUMNS = (*(it.key for it in FILED_BY), "origin", "counts")
_STATE = select(
    select(func.coalesce(func.max(EntryRow.sequence), 0)).scalar_subquery(),
    select(func.coalesce(func.max(BeliefRow.number), 0)).scalar_subquery(),
)
_child = aliased(EntryRow)
SUPERSEDED = exists().where(
    ParentRow.parent == EntryRow.revision,
    _child.revision == ParentRow.child,
    _child.thing_id == EntryRow.thing_id,
    _child.kind == EntryRow.kind,
    _child.counts,
)


def latest_clock(connection: Connection, wall_ms: int) -> LogicalTime | None:
    """Give the latest logical time to go on from (see `Ledger.latest_clock`)."""
    farthest = str(farthest_followed(wall_ms))
    followed = EntryRow.origin.is_(None) | EntryRow.counts & (EntryRow.clock <= farthest)
    query = select(EntryRow.clock).where(followed).order_by(EntryRow.clock.desc()).limit(1)
    found = connection.execute(query).scalar_one_or_none()
    return LogicalTime.from_text(found) if found else None


def write_entries(
    connection: Connection,
    entries: Iterable[Entry],
    *,
    origin: str | None = None,
    counts: bool = True,
) -> set[str]:
    """Write entries in the caller's transaction; those that are here already are left alone.

    Returns
    -------
    set of str
        The revisions of those that were here.
    """
    labelled = [(label_of(it), it.line) for it in entries]
    return write_labelled(connection, labelled, origin=origin, counts=counts)


def write_labelled(
    connection: Connection,
    labelled: Iterable[tuple[Label, bytes]],
    *,
    origin: str | None,
    counts: bool,
) -> set[str]:
    """Write lines under their entries' labels, as `write_entries` does."""
    new = {label.revision: (label, line) for label, line in labelled}
    here = revisions_here(connection, new)
    for revision in here:
        del new[revision]
    rows = [(*_values(label, line), origin, counts) for label, line in new.values()]
    if rows:
        with adding(connection):
            put_rows(connection, EntryRow.__table__, _COLUMNS, rows)
    parents = [(parent, label.revision) for label, _ in new.values() for parent in label.parents]
    put_rows(connection, ParentRow.__table__, ("parent", "child"), parents)
    return here


def revisions_here(connection: Connection, wanted: Collection[str]) -> set[str]:
    """Tell which of these revisions are in the ledger."""
    query = select(EntryRow.revision).where(is_one_of(connection, EntryRow.revision, wanted))
    return set(connection.execute(query).scalars())


def row_of(entry: Entry) -> dict[str, Any]:
    """Read the columns by which an entry is found out of it."""
    values = _values(label_of(entry), entry.line)
    return {it.key: value for it, value in zip(FILED_BY, values, strict=True)}


def _values(label: Label, line: bytes) -> tuple[Any, ...]:
    return (*label[: len(FILED_BY) - 1], line)
