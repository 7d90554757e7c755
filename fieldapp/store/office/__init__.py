"""An office's database: the entries of all tablets of a mine, and what is worked out of them.

The names here cost nothing to import: SQLAlchemy is loaded when a database is opened.
"""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import TYPE_CHECKING

from fieldapp.store.closing import ClosedAtTheEnd

if TYPE_CHECKING:
    from fieldapp.store.archive import SqlArchive
    from fieldapp.store.kept_trust import KeptTrust
    from fieldapp.store.ledger import SqlLedger
    from fieldapp.store.office.database import OfficeDatabase


@dataclass(frozen=True)
class Office(ClosedAtTheEnd):
    """What an office keeps. Several programs may have it open."""

    database: "OfficeDatabase"
    trust: "KeptTrust"
    ledger: "SqlLedger"

    @contextmanager
    def taking_in(self) -> Iterator["SqlArchive"]:
        """Give the archive that a collation takes segments into; entries can be found after it."""
        from fieldapp.store.archive import SqlArchive
        from fieldapp.store.office.indexes import make_indexes

        with self.database.taking_in() as transactions:
            yield SqlArchive(transactions, self.trust)
            with transactions.writing() as connection:
                make_indexes(connection)

    def close(self) -> None:
        """Let go of the database."""
        self.database.close()


def open_office(address: str, *, filled: bool = False) -> Office:
    """Open an office's database, made new if it is empty, unless it should have been filled.

    Parameters
    ----------
    address : str
        `sqlite:///office.db`, or `postgresql+psycopg://user@server/database`.
    filled : bool
        Whether it is only to be asked: none is made then.

    Raises
    ------
    NothingCollated
        It should have been filled, and there is none.
    UnknownDatabase, DatabasePartMissing, PlaceRefused
        The address names nothing that can be filled.
    NotOffice, DatabaseNewer
        It is not for this program.
    ServerGone, ServerRefuses, DiskTrouble
        It can't be reached, read or written.
    """
    from fieldapp.store.kept_trust import KeptTrust
    from fieldapp.store.ledger import SqlLedger
    from fieldapp.store.office.addresses import database_at
    from fieldapp.store.office.troubles import NothingCollated
    from fieldapp.store.office.versions import upgrade

    database = database_at(address)
    if filled and not database.is_there():
        database.close()
        raise NothingCollated(database.place)
    try:
        upgrade(database)
    except BaseException:
        database.close()
        raise
    trust = KeptTrust(database.place)
    return Office(database, trust, SqlLedger(database, trust))
