import shutil
from pathlib import Path

import pytest
from sqlalchemy import create_engine, text

from fieldapp.store import open_store
from fieldapp.store.alembic_run import known_versions, newest_version
from fieldapp.store.checkup import Checkup
from fieldapp.store.engine import Database
from fieldapp.store.journal import APPLICATION_ID
from fieldapp.store.migrations import NEWEST
from fieldapp.store.opening import DATABASE
from fieldapp.store.tables import Table
from fieldapp.store.troubles import DatabaseSetAside
from fieldapp.store.upgrade import upgrade, version_of

REFERENCE = Path(__file__).parents[2] / "reference"
NEWER_KINDS = {
    *("receipt", "key_request", "photo", "bad_file", "clock_note"),
    *("damage", "rehab", "survey_peg", "photo_marks", "photo_measurement", "walk", "bolt_test"),
    *("looked_into", "intersection", "told"),
}
VERSION_1 = REFERENCE / "databases/version-1.db"
"""Made by the program of that version: the samples of every kind, a draft, a segment."""

VERSION_2 = REFERENCE / "databases/version-2.db"
"""The same, with an entry that waits to be sealed, a person's key and something gathered."""


VERSION_5 = REFERENCE / "databases/version-5.db"
"""With a share: paired, a former key, what others sealed, who is believed, words, a photo."""


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


def test_a_database_of_version_1_is_carried_forward(tmp_path: Path) -> None:
    shutil.copy(VERSION_1, tmp_path / DATABASE)
    files = (REFERENCE / "entries").glob("*-1.json")
    samples = {it.read_bytes().rstrip() for it in files if it.stem[:-2] not in NEWER_KINDS}

    with open_store(tmp_path) as store:
        assert {entry.line for entry in store.ledger.all()} == samples
        assert [store.drafts.touches(it.draft_id) for it in store.drafts.open_drafts()] == [
            (b'{"touch":1}',)
        ]
        assert store.check().segments == 1
        upgrade(new := Database(tmp_path / "new.db"))
        assert shape(store.database) == shape(new)
        new.close()


def test_all_that_a_database_of_version_2_holds_was_stated_here(tmp_path: Path) -> None:
    shutil.copy(VERSION_2, tmp_path / DATABASE)

    with open_store(tmp_path) as store:
        entries = tuple(store.ledger.all())
        assert len(entries) == 11
        assert [store.ledger.get(it.revision) for it in entries] == list(entries)
        assert store.check() == Checkup(entries=11, segments=1, waiting=1)
        store.sealing.seal()
        assert store.check() == Checkup(entries=11, segments=2, waiting=0)
        assert store.keys.owners() == ("p-1",)
        assert store.gathered.read("main", "one") is None, "what nothing binds is gathered anew"
        upgrade(new := Database(tmp_path / "new.db"))
        assert shape(store.database) == shape(new)
        new.close()


def test_a_database_of_version_5_holds_what_a_share_brought(tmp_path: Path) -> None:
    shutil.copy(VERSION_5, tmp_path / DATABASE)

    with open_store(tmp_path) as store:
        assert store.check() == Checkup(entries=19, segments=1, waiting=1, held=3)
        assert len(store.holdings.own_tablets()) == 2
        assert store.holdings.trust().number == 1
        assert len(store.holdings.acknowledged()) == 1
        assert [len(it) for it in (store.holdings.published(), store.holdings.bad_files())] == [
            1,
            1,
        ]
        assert store.holdings.exchanged_at_s() == 3.0
        assert len(store.photos.held()) == 1
        upgrade(new := Database(tmp_path / "new.db"))
        assert shape(store.database) == shape(new)
        new.close()


def test_entries_of_version_1_are_found_by_what_they_name(tmp_path: Path) -> None:
    shutil.copy(VERSION_1, tmp_path / DATABASE)

    with open_store(tmp_path) as store:
        (signed,) = store.ledger.of_kind("sign_off")
        (granted,) = store.ledger.of_kind("deviation")
        heading, its_round = str(signed.body["heading"]), str(signed.body["round"])
        assert list(store.ledger.naming("sign_off", "heading", heading)) == [signed]
        assert list(store.ledger.naming("sign_off", "round", its_round)) == [signed]
        assert list(store.ledger.naming("deviation", "heading", None)) == [granted]
        assert signed.revision in store.ledger.filed(())[heading]


def test_a_damaged_line_of_version_1_is_told_before_it_is_lost_from_sight(tmp_path: Path) -> None:
    content = VERSION_1.read_bytes()
    (tmp_path / DATABASE).write_bytes(
        content.replace(b'"what":"inspected"', b'"what":"Inspected"')
    )

    with pytest.raises(DatabaseSetAside) as told:
        open_store(tmp_path)

    assert "do not fit its revision" in told.value.reason
    assert told.value.readable == 11, "the segment that it was sealed in holds it too"
