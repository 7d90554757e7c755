from pathlib import Path

from sqlalchemy import create_engine, text

from fieldapp.store import open_store
from fieldapp.store.alembic_run import known_versions, newest_version
from fieldapp.store.engine import Database
from fieldapp.store.journal import APPLICATION_ID
from fieldapp.store.migrations import NEWEST
from fieldapp.store.tables import Table
from fieldapp.store.upgrade import upgrade, version_of


def shape(database: Database) -> dict[str, list[str]]:
    with database.reading() as connection:
        tables = connection.execute(text("SELECT name FROM sqlite_master WHERE type = 'table'"))
        return {
            name: sorted(
                str(row[1:])
                for asked in ("table_info", "index_list", "foreign_key_list")
                for row in connection.execute(text(f"PRAGMA {asked}({name})"))
            )
            for name in tables.scalars().all()
            if name != "alembic_version"
        }


def test_the_migrations_lead_to_the_tables_that_the_program_uses(tmp_path: Path) -> None:
    migrated, declared = Database(tmp_path / "m.db"), Database(tmp_path / "d.db")
    upgrade(migrated)
    engine = create_engine(f"sqlite:///{tmp_path / 'd.db'}")
    Table.metadata.create_all(engine)
    engine.dispose()

    try:
        assert shape(migrated) == shape(declared)
    finally:
        migrated.close()
        declared.close()


def test_the_newest_version_is_the_last_migration() -> None:
    assert newest_version() == NEWEST, "name the new migration in migrations/__init__.py"
    assert NEWEST in known_versions()


def test_upgrading_twice_changes_nothing(tmp_path: Path) -> None:
    database = Database(tmp_path / "t.db")
    upgrade(database)
    before = (tmp_path / "t.db").read_bytes()
    upgrade(database)
    database.close()

    assert (tmp_path / "t.db").read_bytes() == before
    assert version_of(database) == NEWEST
    database.close()


def test_a_new_database_says_whose_it_is(tmp_path: Path) -> None:
    with open_store(tmp_path) as store, store.database.reading() as connection:
        assert connection.execute(text("PRAGMA application_id")).scalar() == APPLICATION_ID
        assert connection.execute(text("PRAGMA auto_vacuum")).scalar() == 2  # incremental
