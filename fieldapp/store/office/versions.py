"""Brings an office's database to the version that this program works with, all or nothing."""

from sqlalchemy import Connection, inspect, text

from fieldapp.store.office.database import OfficeDatabase
from fieldapp.store.office.migrations import NEWEST, VERSION_TABLE
from fieldapp.store.office.office_ledger import LEDGER
from fieldapp.store.office.troubles import NotOffice
from fieldapp.store.troubles import DatabaseNewer


def upgrade(database: OfficeDatabase) -> None:
    """Make the tables of a new database, or carry an older one forward.

    Raises
    ------
    NotOffice
        Another program's database, or a tablet's.
    DatabaseNewer
        A newer version of this program has used it.
    """
    database.refuse_unfit()
    with database.reading() as connection:
        found = _version(connection, database.place)
    if found == NEWEST:
        return
    # Alembic is loaded on the first start and after an update only.
    from fieldapp.store.alembic_run import OFFICES, known_versions, run_migrations

    if found is not None and found not in known_versions(OFFICES):
        raise DatabaseNewer(database.place, found)
    with database.migrating() as connection:
        run_migrations(connection, OFFICES)


def _version(connection: Connection, place: str) -> str | None:
    tables = set(inspect(connection).get_table_names())
    if VERSION_TABLE in tables:
        asked = text(f"SELECT version_num FROM {VERSION_TABLE}")  # noqa: S608 - our own name
        return str(connection.execute(asked).scalar_one())
    if LEDGER in tables:
        raise NotOffice(place, f"a table of another program is called {LEDGER}")
    return None
