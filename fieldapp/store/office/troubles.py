"""What can go wrong with an office's database, and what PostgreSQL's answers mean."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass

from sqlalchemy.exc import DBAPIError, OperationalError

from fieldapp.store.troubles import DatabaseBusy, DatabaseDamaged
from schemas.trouble import BadInput, DiskTrouble, NotAllowed, Trouble
from sync.durable import DiskFull


@dataclass(eq=False)
class UnknownDatabase(BadInput):
    """An address names no database that this program can fill."""

    address: str
    reason: str
    happened = "{address} names no database that can be filled: {reason}."
    kept = "Nothing was written anywhere."
    do_next = (
        "Name a file, such as sqlite:///office.db, or a server's database, such as "
        "postgresql+psycopg://user@server/office."
    )


@dataclass(eq=False)
class NothingCollated(BadInput):
    """An office's database holds no mine, or is not there at all."""

    place: str
    happened = "No mine's records are in {place}."
    kept = "Nothing was written anywhere."
    do_next = "Look at its name, or fill it first: lastrow collate SHARE --database URL."


@dataclass(eq=False)
class DatabasePartMissing(NotAllowed):
    """PostgreSQL is spoken to by a part that is not installed everywhere."""

    address: str
    happened = "Speaking to {address} needs a part that is not installed here."
    kept = "Nothing was written anywhere."
    do_next = 'Install it with pip install "lastrow[office]", then collate again.'


@dataclass(eq=False)
class ServerGone(DiskTrouble):
    """The server of the database can't be reached, or went away."""

    database: str
    reason: str
    happened = "The database {database} can't be reached: {reason}."
    kept = "What was taken in is kept; the shared folder is as it was."
    do_next = "Look whether the server runs and the address is right, then collate again."


@dataclass(eq=False)
class ServerRefuses(NotAllowed):
    """The server doesn't let this user do what is asked."""

    database: str
    reason: str
    happened = "The server of {database} refuses: {reason}."
    kept = "What was taken in is kept; the shared folder is as it was."
    do_next = "Ask whoever looks after the server for the right to make tables in this database."


@dataclass(eq=False)
class OfficeDamaged(DatabaseDamaged):
    """An office's database holds what nobody wrote into it, or is none."""

    kept = "The shared folder is as it was: everything can be taken in from it again."
    do_next = "Collate into a new database, and put this one away."


@dataclass(eq=False)
class NotOffice(NotAllowed):
    """A database holds something else than an office's entries."""

    database: str
    reason: str
    happened = "The database {database} is no office's: {reason}."
    kept = "Nothing in it was changed."
    do_next = "Name a new, empty database, or the one that was filled before."


@dataclass(eq=False)
class OthersLeanOnIt(NotAllowed):
    """Somebody's own views stand on ours, which are to be made anew."""

    database: str
    reason: str
    happened = "The views in {database} can't be made anew: {reason}."
    kept = "Every entry is taken in; the views are as they were."
    do_next = "Drop what was built on them, collate again, then build it anew."


_MEANT: tuple[tuple[tuple[str, ...], Callable[[str, str], Trouble]], ...] = (
    (("08", "57P"), ServerGone),
    (("28", "3D", "42501", "25006"), ServerRefuses),
    (("53100", "53200"), lambda database, _: DiskFull(database)),
    (("55P03", "40", "53300"), lambda database, _: DatabaseBusy(database)),
    (("2BP01",), OthersLeanOnIt),
    (("XX001", "XX002"), OfficeDamaged),
)
"""What the beginnings of the server's error codes mean (PostgreSQL documentation, appendix A)."""


@contextmanager
def told(database: str) -> Iterator[None]:
    """Turn PostgreSQL's answers that mean trouble into that; a bug passes through."""
    try:
        yield
    except DBAPIError as error:
        trouble = _trouble(error, database)
        if trouble is None:
            raise
        raise trouble from error


def _trouble(error: DBAPIError, database: str) -> Trouble | None:
    state = getattr(error.orig, "sqlstate", None)
    reason = str(error.orig).strip().partition("\n")[0]
    if state is None:
        return ServerGone(database, reason) if isinstance(error, OperationalError) else None
    meant = (trouble for begins, trouble in _MEANT if state.startswith(begins))
    return next((trouble(database, reason) for trouble in meant), None)
