"""The ledger of entries on SQLite: their bytes, and a few columns to find them by."""

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from datetime import datetime
from typing import Any, TypeAlias

from sqlalchemy import ColumnElement, Connection, Row, exists, func, insert, select
from sqlalchemy.orm import aliased

from fieldapp.store.engine import Database
from fieldapp.store.filing import filed
from fieldapp.store.tables import EntryRow, ParentRow
from fieldapp.store.troubles import DatabaseDamaged
from schemas.canonical import Unreadable
from schemas.entry import Entry, read_again
from schemas.logical_clock import LogicalTime
from sync.ledger import Kept, Ledger, Named, name_in

_READ_AT_ONCE = 500
"""So many rows are fetched in one short transaction: a long one would hold up commits."""

_ASKED_AT_ONCE = 1000

_Row: TypeAlias = Row[*tuple[Any, ...]]


class SqlLedger(Ledger):
    """A ledger in one SQLite file.

    What was added is on the disk when `add` returns. Every line is checked against its
    revision each time it is read; `DatabaseDamaged` tells of one that is not what it was.
    """

    def __init__(self, database: Database) -> None:
        self._database = database

    def add(self, entries: Iterable[Entry]) -> None:
        """Take in entries, durably and all or none; one that is here already is left alone."""
        with self._database.writing() as connection:
            write_entries(connection, tuple(entries))

    def all(self) -> Iterator[Entry]:
        """Give every entry, oldest first."""
        return (kept.entry for kept in self.after(0))

    def after(self, sequence: int) -> Iterator[Kept]:
        """Give what was taken in after a place, oldest first; from the start after 0."""
        return self._matching(after=sequence)

    def newest(self) -> int:
        """Give the place of what was taken in last; 0 in an empty ledger."""
        with self._database.reading() as connection:
            found: int | None = connection.execute(_NEWEST).scalar_one_or_none()
        return found or 0

    def of_kind(self, kind: str) -> Iterator[Entry]:
        """Give the entries of one kind, superseded ones too, oldest first."""
        return (kept.entry for kept in self._matching(EntryRow.kind == kind))

    def of_thing(self, thing_id: str) -> tuple[Entry, ...]:
        """Give all revisions of one thing, oldest first."""
        return tuple(kept.entry for kept in self._matching(EntryRow.thing_id == thing_id))

    def naming(self, kind: str, named: Named, name: str | None) -> Iterator[Entry]:
        """Give all revisions of the things of a kind of which one names this, oldest first."""
        column = {"heading": EntryRow.heading, "round": EntryRow.round}[named]
        of_kind = func.likely(EntryRow.kind == kind)  # far more are of a kind than name one thing
        naming = select(EntryRow.thing_id).where(of_kind, column == name)
        wanted = of_kind, EntryRow.thing_id.in_(naming)
        return (kept.entry for kept in self._matching(*wanted))

    def filed(self, kinds: Collection[str]) -> Mapping[str | None, str]:
        """Give what is filed under each heading, the same for the same entries."""
        return filed(self._database, kinds)

    def heads(self, kind: str) -> tuple[Entry, ...]:
        """Give the current revisions of all things of a kind, oldest first."""
        current = self._matching(EntryRow.kind == kind, ~_SUPERSEDED)
        return tuple(kept.entry for kept in current)

    def get(self, revision: str) -> Entry | None:
        """Give one entry by its revision, or None when it is not here."""
        return next((kept.entry for kept in self._matching(EntryRow.revision == revision)), None)

    def last_clock(self) -> LogicalTime | None:
        """Give the logical time of the entry that was taken in last."""
        last = select(func.max(EntryRow.sequence)).scalar_subquery()
        found = next(self._matching(EntryRow.sequence == last), None)
        return found.entry.clock if found else None

    def newest_made_at(self) -> datetime | None:
        """Give the latest time at which any entry says it was made."""
        newest = select(func.max(EntryRow.made_at)).scalar_subquery()
        found = next(self._matching(EntryRow.made_at == newest), None)
        return found.entry.made_at if found else None

    def _matching(self, *wanted: ColumnElement[bool], after: int = 0) -> Iterator[Kept]:
        while rows := self._rows(wanted, after):
            yield from map(self._kept, rows)
            after = rows[-1].sequence

    def _rows(self, wanted: Sequence[ColumnElement[bool]], after: int) -> Sequence[_Row]:
        query = select(*EntryRow.__table__.columns).where(EntryRow.sequence > after, *wanted)
        with self._database.reading() as connection:
            found = connection.execute(query.order_by(EntryRow.sequence).limit(_READ_AT_ONCE))
            return found.all()

    def _kept(self, row: _Row) -> Kept:
        source = f"entry {row.sequence}"
        try:
            entry = read_again(row.line, revision=row.revision, source=source)
        except Unreadable as error:
            raise self._damaged(f"{source}: {error.reason}") from error
        if tuple(row)[1:] != tuple(_row(entry).values()):
            raise self._damaged(f"{source} is filed as something that it is not")
        return Kept(row.sequence, entry)

    def _damaged(self, reason: str) -> DatabaseDamaged:
        return DatabaseDamaged(str(self._database.path), reason)


_NEWEST = select(func.max(EntryRow.sequence))
_child = aliased(EntryRow)
_SUPERSEDED = exists().where(
    ParentRow.parent == EntryRow.revision,
    _child.revision == ParentRow.child,
    _child.thing_id == EntryRow.thing_id,
    _child.kind == EntryRow.kind,
)


def write_entries(connection: Connection, entries: Sequence[Entry]) -> None:
    """Write entries in the caller's transaction; those that are here already are left alone."""
    new = {entry.revision: entry for entry in entries}
    for revision in revisions_here(connection, new):
        del new[revision]
    parents = [
        {"parent": parent, "child": entry.revision}
        for entry in new.values()
        for parent in entry.parents
    ]
    if new:
        connection.execute(insert(EntryRow), [_row(entry) for entry in new.values()])
    if parents:
        connection.execute(insert(ParentRow), parents)


def revisions_here(connection: Connection, wanted: Iterable[str]) -> set[str]:
    """Tell which of these revisions are in the ledger."""
    here: set[str] = set()
    waiting = list(wanted)
    for start in range(0, len(waiting), _ASKED_AT_ONCE):
        some = waiting[start : start + _ASKED_AT_ONCE]
        query = select(EntryRow.revision).where(EntryRow.revision.in_(some))
        here.update(connection.execute(query).scalars())
    return here


def _row(entry: Entry) -> dict[str, str | bytes | None]:
    return {
        "revision": entry.revision,
        "kind": entry.kind,
        "thing_id": entry.id,
        "made_at": sortable_time(entry.made_at),
        "clock": str(entry.clock),
        "line": entry.line,
        "heading": name_in(entry.body, "heading"),
        "round": name_in(entry.body, "round"),
    }


def sortable_time(made_at: datetime) -> str:
    """Write a time so that texts sort as times do: always with six decimals."""
    return made_at.isoformat(timespec="microseconds")
