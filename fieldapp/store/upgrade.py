"""Brings a database to the version that this program works with, all or nothing."""

from pathlib import Path

from sqlalchemy import Connection, text

from fieldapp.store.engine import Database
from fieldapp.store.journal import APPLICATION_ID, AT_CREATION
from fieldapp.store.kept_before import keep_before_upgrade
from fieldapp.store.migrations import NEWEST
from fieldapp.store.troubles import DatabaseDamaged, DatabaseNewer, NotOurDatabase


def upgrade(database: Database) -> None:
    """Make the tables of a new database, or carry an older one forward.

    Everything happens in one transaction: killed in the middle, the old version is there. A
    copy of it is kept beside it in any case.

    Raises
    ------
    NotOurDatabase
        Another program's database lies there.
    DatabaseNewer
        A newer version of this program has used it.
    DiskFull
        There is too little room for the copy; nothing was begun.
    """
    found = version_of(database)
    if found == NEWEST:
        return
    # Alembic is loaded on the first start and after an update only.
    from fieldapp.store.alembic_run import known_versions, run_migrations

    if found is not None and found not in known_versions():
        raise DatabaseNewer(str(database.path), found)
    if found is not None:
        keep_before_upgrade(database.path, found)
    with database.migrating(*(() if found else (AT_CREATION,))) as connection:
        run_migrations(connection)
        broken = connection.execute(text("PRAGMA foreign_key_check")).all()
        assert not broken, broken  # noqa: S101 - a migration of ours that loses rows is a bug


def version_of(database: Database) -> str | None:
    """Give the version of a database; None for a file with nothing in it."""
    with database.reading() as connection:
        return _version(connection, database.path)


def _version(connection: Connection, path: Path) -> str | None:
    tables = connection.execute(text("SELECT name FROM sqlite_master")).scalars().all()
    if not tables:
        return None
    if connection.execute(text("PRAGMA application_id")).scalar_one() != APPLICATION_ID:
        raise NotOurDatabase(str(path))
    if "alembic_version" not in tables:
        raise DatabaseDamaged(str(path), "it doesn't say of which version it is")
    return str(connection.execute(text("SELECT version_num FROM alembic_version")).scalar_one())
