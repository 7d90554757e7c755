"""What is worked out of the entries, kept for reports. Never the truth: dropped and made anew.

Each call is one transaction. Whoever was killed between two of them starts from the state that
was finished last, and what was judged meanwhile is not judged again. Whoever begins later has
seen as many entries or more, and overtakes whoever is at it: what was worked out of fewer
entries never takes the place of what was worked out of more.
"""

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from itertools import groupby

from sqlalchemy import Connection, Table, delete, func, insert, inspect, or_, select, update

from fieldapp.store.dialects import insert_or, is_one_of, put_rows
from fieldapp.store.ledger import SUPERSEDED
from fieldapp.store.office.ground_lines import DamageLine, IntersectionLine, RehabLine
from fieldapp.store.office.line import Line
from fieldapp.store.office.line_tables import (
    DONE,
    JUDGED,
    METADATA,
    RECORDS,
    TABLES,
    columns_of,
    row_of,
)
from fieldapp.store.office.lines import (
    BoltLine,
    ConflictLine,
    EntryLine,
    EventLine,
    FindingLine,
    HeadingLine,
    JudgementLine,
    LapLine,
    PersonLine,
    RoundLine,
    SignOffLine,
    TabletLine,
)
from fieldapp.store.office.views import drop_views, make_views
from fieldapp.store.tables import EntryRow
from fieldapp.store.transactions import Transactions
from sync.ledger import LedgerState

OF_A_ROUND = (JudgementLine, FindingLine, BoltLine, LapLine)
OF_A_HEADING = (HeadingLine, RoundLine, SignOffLine, EventLine, RehabLine)
OF_THE_MINE = (EntryLine, DamageLine, IntersectionLine, PersonLine, TabletLine, ConflictLine)


@dataclass(frozen=True)
class Judged:
    """One revision of a round, a hash of all that it was judged by, and what came of it."""

    round_revision: str
    judged_by: str
    lines: tuple[Line, ...]


@dataclass(frozen=True)
class Touched:
    """What entries are about that were taken in after a place in the ledger."""

    headings: frozenset[str]
    kinds_about_none: frozenset[str]
    """The kinds of those that name neither a heading nor a round."""


class Overtaken(Exception):
    """Another collation began later and works everything out; what was kept by then is kept."""


class Projected:
    """The lines that one office has worked out, for one collation."""

    def __init__(self, database: Transactions) -> None:
        self._database = database
        self._turn = 0

    # --- how far it is --------------------------------------------------------------------

    def make_ready(self, version: str) -> LedgerState | None:
        """Give up to which state everything is worked out in a version; None for nothing yet.

        What another version left is dropped, tables, views and all. Whoever is at it is overtaken.
        """
        with self._database.writing() as connection:
            is_there = inspect(connection).has_table(DONE.name)
            kept = connection.execute(select(DONE)).one() if is_there else None
            self._turn = kept.turn + 1 if kept else 1
            if kept is None or kept.version != version:
                _make_anew(connection, version, self._turn)
                return None
            connection.execute(update(DONE).values(turn=self._turn))
        return LedgerState(kept.newest, kept.belief) if kept.newest else None

    def finish(self, state: LedgerState) -> None:
        """Keep that everything is worked out up to a state of the ledger."""
        with self._in_turn() as connection:
            reached = {"newest": state.newest, "belief": state.belief}
            connection.execute(update(DONE).values(reached))

    # --- what is to be done ---------------------------------------------------------------

    def touched(self, after: int) -> Touched:
        """Give what the entries after a place are about."""
        row = EntryRow
        query = select(row.kind, row.heading, row.round, row.thing_id)
        with self._database.reading() as connection:
            new = connection.execute(query.where(row.sequence > after)).all()
            named = {it.heading for it in new if it.heading is not None}
            named |= {it.thing_id for it in new if it.kind == "heading"}
            others = {it.thing_id for it in new}
            others |= {it.round for it in new if it.heading is None and it.round is not None}
            named |= _headings_naming(connection, others)
        alone = {it.kind for it in new if it.heading is None and it.round is None}
        return Touched(frozenset(named), frozenset(alone))

    def tablets_of(self, revisions: Collection[str]) -> Mapping[str, str]:
        """Give the tablet in whose segment each entry came first."""
        query = select(EntryRow.revision, EntryRow.origin)
        with self._database.reading() as connection:
            asked = query.where(is_one_of(connection, EntryRow.revision, revisions))
            return {revision: origin or "" for revision, origin in connection.execute(asked)}

    def with_several_heads(self) -> Sequence[tuple[str, str]]:
        """Give kind and id of the things of which several revisions may be current."""
        row = EntryRow
        heads = select(row.kind, row.thing_id).where(row.counts, ~SUPERSEDED)
        several = heads.group_by(row.kind, row.thing_id).having(func.count() > 1)
        with self._database.reading() as connection:
            return [(kind, thing) for kind, thing in connection.execute(several)]

    # --- what was worked out --------------------------------------------------------------

    def judged(self, heading_id: str) -> Mapping[str, str]:
        """Give the judged revisions of a heading's rounds, and what each was judged by."""
        query = select(JUDGED.c.round_revision, JUDGED.c.judged_by)
        with self._database.reading() as connection:
            found = connection.execute(query.where(JUDGED.c.heading_id == heading_id))
            return {it.round_revision: it.judged_by for it in found}

    def put_judged(self, heading_id: str, judged: Sequence[Judged]) -> None:
        """Keep what rounds were judged, in the place of what was kept of them before."""
        revisions = [it.round_revision for it in judged]
        rows = [(it.round_revision, heading_id, it.judged_by) for it in judged]
        with self._in_turn() as connection:
            _forget(connection, revisions)
            put_rows(connection, JUDGED, tuple(JUDGED.c.keys()), rows)
            _put(connection, (line for it in judged for line in it.lines))

    def forget_judged(self, revisions: Collection[str]) -> None:
        """Take out what was judged of revisions that are not current any more."""
        with self._in_turn() as connection:
            _forget(connection, revisions)

    def put_heading(self, heading_id: str, record: bytes, lines: Iterable[Line]) -> None:
        """Keep a heading's lines and record, in the place of those that were kept before."""
        with self._in_turn() as connection:
            for line in OF_A_HEADING:
                table = TABLES[line]
                connection.execute(delete(table).where(table.c.heading_id == heading_id))
            kept = insert_or(connection, RECORDS).values(heading_id=heading_id, content=record)
            anew = {"content": kept.excluded.content}
            connection.execute(
                kept.on_conflict_do_update(index_elements=[RECORDS.c.heading_id], set_=anew)
            )
            _put(connection, lines)

    def forget_heading(self, heading_id: str) -> None:
        """Take out a heading that was withdrawn."""
        with self._in_turn() as connection:
            for table in (RECORDS, *(TABLES[line] for line in OF_A_HEADING)):
                connection.execute(delete(table).where(table.c.heading_id == heading_id))

    def records(self) -> Mapping[str, bytes]:
        """Give the record of each heading."""
        with self._database.reading() as connection:
            found = connection.execute(select(RECORDS.c.heading_id, RECORDS.c.content))
            return {heading_id: bytes(content) for heading_id, content in found}

    def put_mine(self, lines: Iterable[Line]) -> None:
        """Keep the lines about the whole mine, in the place of those that were kept before."""
        with self._in_turn() as connection:
            for line in OF_THE_MINE:
                connection.execute(delete(TABLES[line]))
            _put(connection, lines)

    @contextmanager
    def _in_turn(self) -> Iterator[Connection]:
        with self._database.writing() as connection:
            if connection.execute(select(DONE.c.turn)).scalar_one() != self._turn:
                raise Overtaken
            yield connection


def _make_anew(connection: Connection, version: str, turn: int) -> None:
    drop_views(connection)
    METADATA.drop_all(connection)
    METADATA.create_all(connection)
    make_views(connection)
    connection.execute(insert(DONE).values(version=version, turn=turn, newest=0, belief=0))


def _headings_naming(connection: Connection, ids: Collection[str]) -> set[str]:
    """Give the headings that any revision of these things names, or that names these rounds."""
    row = EntryRow
    asked = or_(is_one_of(connection, row.thing_id, ids), is_one_of(connection, row.round, ids))
    query = select(row.heading).distinct().where(row.heading.is_not(None), asked)
    return {heading for heading in connection.execute(query).scalars() if heading is not None}


def _forget(connection: Connection, revisions: Collection[str]) -> None:
    for table in (JUDGED, *(TABLES[line] for line in OF_A_ROUND)):
        gone = is_one_of(connection, table.c.round_revision, revisions)
        connection.execute(delete(table).where(gone))


def _put(connection: Connection, lines: Iterable[Line]) -> None:
    for kind, some in groupby(sorted(lines, key=_table_name), key=type):
        table: Table = TABLES[kind]
        put_rows(connection, table, columns_of(kind), [row_of(it) for it in some])


def _table_name(line: Line) -> str:
    return line.table
