"""Brings a database to the version that this program works with, all or nothing."""

from collections.abc import Callable
from datetime import UTC, datetime
from functools import partial
from pathlib import Path

from sqlalchemy import Connection, text

from fieldapp.store.engine import Database
from fieldapp.store.journal import APPLICATION_ID, AT_CREATION
from fieldapp.store.kept_before import keep_before_upgrade
from fieldapp.store.migrations import NEWEST
from fieldapp.store.troubles import DatabaseDamaged, DatabaseNewer, NotOurDatabase

_SYSTEM_S_CLOCK = partial(datetime.now, UTC)


def upgrade(database: Database, now: Callable[[], datetime] = _SYSTEM_S_CLOCK) -> None:
    """Make the tables of a new database, or carry an older one forward.

    A backup of an older one is kept beside it, made at the time that `now` tells.

    Raises
    ------
    NotOurDatabase
        Another program's database lies there.
    DatabaseNewer
        A newer version of this program has used it.
    DiskFull
        There is too little room for the backup; nothing was begun.
    """
    found = version_of(database)
    if found == NEWEST:
        return
    if found is not None:
        _refuse_newer(database, found)
        keep_before_upgrade(database.path, found, now())
    carry_forward(database)


def carry_forward(database: Database) -> None:
    """Bring a database to the newest version, without a backup of what it was.

    Everything happens in one transaction: killed in the middle, the old version is there.

    Raises
    ------
    NotOurDatabase, DatabaseNewer
        As in `upgrade`.
    """
    found = version_of(database)
    if found == NEWEST:
        return
    if found is not None:
        _refuse_newer(database, found)
    # Alembic is loaded on the first start and after an update only.
    from fieldapp.store.alembic_run import run_migrations

    with database.migrating(*(() if found else (AT_CREATION,))) as connection:
        run_migrations(connection)
        broken = connection.execute(text("PRAGMA foreign_key_check")).all()
        assert not broken, broken  # noqa: S101 - a migration of ours that loses rows is a bug


def _refuse_newer(database: Database, found: str) -> None:
    from fieldapp.store.alembic_run import known_versions

    if found not in known_versions():
        raise DatabaseNewer(str(database.path), found)


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
