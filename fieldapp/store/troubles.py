"""What can go wrong with the database, and what each of SQLite's answers means."""

import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from sqlalchemy.exc import DBAPIError

from schemas.trouble import DiskTrouble
from sync.durable import DiskFailed, DiskFull

_NO_ROOM_BYTES = 256 * 1024


@dataclass(eq=False)
class DatabaseDamaged(DiskTrouble):
    """The database holds bytes that nobody wrote into it."""

    database: str
    reason: str
    happened = "The database {database} is damaged: {reason}."
    kept = "Nothing in it was changed."
    do_next = "Bring the records back: lastrow restore --newest."


@dataclass(eq=False)
class DatabaseSetAside(DiskTrouble):
    """The database was found damaged at the start."""

    database: str
    reason: str
    copy: str
    readable: int
    happened = "The database {database} is damaged: {reason}."
    kept = "A copy is kept in {copy}; {readable} entries in it can still be read."
    do_next = "Bring the records back: lastrow restore --newest."


@dataclass(eq=False)
class DatabaseGone(DiskTrouble):
    """The database that stood here is not there any more."""

    database: str
    marker: str
    happened = "The database {database} is gone, though one was kept here before."
    kept = "Nothing was put in its place."
    do_next = "lastrow restore --newest brings it back; without {marker} an empty one is made."


@dataclass(eq=False)
class DatabaseBusy(DiskTrouble):
    """Another program holds the database."""

    database: str
    happened = "Another program has held the database {database} for too long."
    kept = "Everything that was shown as kept is there; the last step was not taken."
    do_next = "Close the other program, then take the last step again."


@dataclass(eq=False)
class DatabaseNewer(DiskTrouble):
    """A newer version of the program has used the database."""

    database: str
    version: str
    happened = "The database {database} is of version {version}; this program is too old for it."
    kept = "Nothing in it was changed."
    do_next = "Update the program; lastrow export --unsent gives what nobody else has yet."


@dataclass(eq=False)
class NotOurDatabase(DiskTrouble):
    """A database of some other program lies where ours should."""

    database: str
    happened = "The file {database} is a database of another program."
    kept = "Nothing in it was changed."
    do_next = "Choose another home folder with --home."


@contextmanager
def told(database: Path, damaged: type[DatabaseDamaged] = DatabaseDamaged) -> Iterator[None]:
    """Turn SQLite's answers that mean trouble into that; a bug passes through.

    A text in the file that is none is damage. SQLite may quote it in its answer, so that the
    driver can't even read what SQLite says.
    """
    try:
        yield
    except UnicodeDecodeError as error:
        raise damaged(str(database), "a text in it is none") from error
    except (DBAPIError, sqlite3.Error) as error:
        trouble = _trouble(getattr(error, "orig", error), database, damaged)
        if trouble is None:
            raise
        raise trouble from error


def _trouble(
    error: BaseException | None, database: Path, damaged: type[DatabaseDamaged]
) -> DiskTrouble | None:
    code = getattr(error, "sqlite_errorcode", 0) & 0xFF  # the driver's own errors have none
    if str(error).startswith("Could not decode"):  # the driver's: a text that is none
        code = sqlite3.SQLITE_CORRUPT
    if code == sqlite3.SQLITE_FULL or (code == sqlite3.SQLITE_IOERR and _no_room(database)):
        return DiskFull(str(database))
    if code in _DISK:
        return DiskFailed(str(database), str(error))
    if code in _DAMAGE:
        return damaged(str(database), str(error))
    return DatabaseBusy(str(database)) if code in _BUSY else None


_DISK = (sqlite3.SQLITE_IOERR, sqlite3.SQLITE_READONLY, sqlite3.SQLITE_CANTOPEN)
_DAMAGE = (sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB)
_BUSY = (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED)


def _no_room(database: Path) -> bool:
    """Tell a full disk from a broken one where SQLite only says that a step failed."""
    try:
        return shutil.disk_usage(database.parent).free < _NO_ROOM_BYTES
    except OSError:
        return False
