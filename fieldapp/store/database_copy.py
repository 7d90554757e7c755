"""A copy of a database while others go on writing in it, looked through before it is believed."""

import os
import sqlite3
import time
from collections.abc import Callable, Iterator
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path

from fieldapp.store.troubles import DatabaseBusy, DatabaseDamaged, told
from schemas.canonical import revision_of
from sync.names import short_hash

_PATIENCE_S = 60.0
_BUSY_TIMEOUT_S = 10.0


@dataclass(frozen=True)
class Copied:
    """What a copy holds, all of it found good."""

    version: str
    entries: int


def copy_database(database: Path, copy: Path) -> Copied:
    """Copy a database as it is at one moment, make it durable, and look through the copy.

    All pages are taken in one step: a copy taken in several is begun again with every commit
    of somebody else. Under the rollback journal commits wait meanwhile.

    Raises
    ------
    DatabaseDamaged
        The copy shows that the database is damaged.
    DatabaseBusy
        Somebody held the database all the time.
    DiskFull, DiskFailed
        The copy could not be written.
    OSError
        The same, told by the system.
    """
    with told(database):
        with (
            closing(_opened(database, "mode=rw", timeout=_BUSY_TIMEOUT_S)) as old,
            closing(sqlite3.connect(copy)) as new,
        ):
            new.execute("PRAGMA journal_mode = OFF").fetchall()
            new.execute("PRAGMA synchronous = OFF").fetchall()
            old.backup(new, pages=-1, progress=_patient(database))
        with copy.open("rb+") as file:
            os.fsync(file.fileno())
        return _looked_through(copy, database)


def _opened(path: Path, how: str, timeout: float = 0) -> sqlite3.Connection:
    return sqlite3.connect(f"{path.absolute().as_uri()}?{how}", uri=True, timeout=timeout)


def _patient(database: Path) -> Callable[[int, int, int], None]:
    """End a wait that would last for ever: the driver tries until nobody holds the database."""
    began = time.monotonic()

    def still_waiting(_status: int, _remaining: int, _total: int) -> None:
        if time.monotonic() - began > _PATIENCE_S:
            raise DatabaseBusy(str(database))

    return still_waiting


def _looked_through(copy: Path, database: Path) -> Copied:
    """Look at the structure of a copy, and at the hash of every line and segment in it."""
    with closing(_opened(copy, "mode=ro&immutable=1")) as found:
        (answer,) = found.execute("PRAGMA integrity_check(1)").fetchone()
        reason = next(_unfit(found), None) if answer == "ok" else answer
        if reason:
            raise DatabaseDamaged(str(database), reason)
        (version,) = found.execute("SELECT version_num FROM alembic_version").fetchone()
        (entries,) = found.execute("SELECT count(*) FROM entry").fetchone()
    return Copied(version, entries)


def _unfit(found: sqlite3.Connection) -> Iterator[str]:
    for number, revision, line in found.execute("SELECT sequence, revision, line FROM entry"):
        if revision_of(line) != revision:
            yield f"entry {number}: its bytes do not fit its revision"
    for hash16, content in _segments(found):
        if short_hash(content) != hash16:
            yield f"segment {hash16}: its bytes do not fit its hash"


def _segments(found: sqlite3.Connection) -> Iterator[tuple[str, bytes]]:
    yield from found.execute("SELECT substr(name, 10, 16), content FROM segment")
    tables = found.execute("SELECT name FROM sqlite_master WHERE name = 'share_segment'")
    if tables.fetchone():  # a database of the first versions held no others'
        yield from found.execute("SELECT hash16, content FROM share_segment")
