"""Looks whether everything that was kept is still what it was."""

from dataclasses import dataclass

from sqlalchemy import select, text

from fieldapp.store.engine import Database
from fieldapp.store.holdings import SqlHoldings
from fieldapp.store.ledger import SqlLedger
from fieldapp.store.sealing import Sealing
from fieldapp.store.tables import ParentRow
from fieldapp.store.troubles import DatabaseDamaged
from schemas.canonical import Unreadable
from schemas.entry import Entry, read_entry

_HEADER = b"SQLite format 3\x00"


@dataclass(frozen=True)
class Checkup:
    """What was looked at, all of it found good."""

    entries: int
    segments: int
    waiting: int
    held: int = 0
    """Segments of others, and of this tablet under a key that it had before."""


def quick_check(database: Database) -> None:
    """Ask SQLite whether the file's structure is sound; part of every start.

    A file without its header is not handed to SQLite at all: it would clear away the log
    beside it, in which the last entries may stand.

    Raises
    ------
    DatabaseDamaged
        It is not, or the file can't be read as a database.
    OSError
        The file can't be read at all.
    """
    if database.path.exists() and _first_bytes(database) not in (b"", _HEADER):
        raise DatabaseDamaged(str(database.path), "it doesn't begin as a database does")
    _ask(database, "PRAGMA quick_check(1)")


def check(
    database: Database, ledger: SqlLedger, sealing: Sealing, holdings: SqlHoldings
) -> Checkup:
    """Check the file, every entry's bytes and envelope, and all segments.

    Raises
    ------
    DatabaseDamaged
        Names the first thing that is not what it was.
    BrokenSegment
        A sealed segment is broken or missing.
    """
    _ask(database, "PRAGMA integrity_check(1)")
    entries = 0
    parents: set[tuple[str, str]] = set()
    for kept in ledger.after(0):
        _check_strictly(database, kept.sequence, kept.entry)
        entries += 1
        parents.update((parent, kept.entry.revision) for parent in kept.entry.parents)
    if parents != _parents(database):
        raise DatabaseDamaged(str(database.path), "it is not known any more what supersedes what")
    return Checkup(entries, sealing.check(), sealing.waiting(), holdings.check())


def _first_bytes(database: Database) -> bytes:
    with database.path.open("rb") as file:
        return file.read(len(_HEADER))


def _ask(database: Database, question: str) -> None:
    with database.reading() as connection:
        answer = str(connection.execute(text(question)).scalars().first())
        loose = connection.execute(text("PRAGMA foreign_key_check")).first()
    if answer != "ok":
        *_which_database, reason = answer.splitlines()
        raise DatabaseDamaged(str(database.path), reason)
    if loose is not None:
        raise DatabaseDamaged(str(database.path), f"a row of {loose[0]} belongs to nothing")


def _parents(database: Database) -> set[tuple[str, str]]:
    with database.reading() as connection:
        rows = connection.execute(select(ParentRow.parent, ParentRow.child))
        return {(parent, child) for parent, child in rows}


def _check_strictly(database: Database, sequence: int, entry: Entry) -> None:
    try:
        read_entry(entry.line, source=f"entry {sequence}")
    except Unreadable as error:
        reason = f"{error.source}: at {error.path}, {error.reason}"
        raise DatabaseDamaged(str(database.path), reason) from error
