import sqlite3
from pathlib import Path

import pytest
from sqlalchemy import text

from fieldapp.store.engine import Database
from fieldapp.store.journal import ROLLBACK, WRITE_AHEAD, Journal, Version, journal_for


# Published: sqlite.org/wal.html, "the WAL-reset bug": 3.7.0 to 3.51.2; fixed in 3.51.3 and, by
# back-port, in 3.44.6 and 3.50.7. 3.52.0 was withdrawn.
@pytest.mark.parametrize(
    ("version", "journal"),
    [
        ((3, 40, 1), ROLLBACK),
        ((3, 44, 5), ROLLBACK),
        ((3, 44, 6), WRITE_AHEAD),
        ((3, 45, 0), ROLLBACK),
        ((3, 50, 4), ROLLBACK),
        ((3, 50, 6), ROLLBACK),
        ((3, 50, 7), WRITE_AHEAD),
        ((3, 51, 0), ROLLBACK),
        ((3, 51, 2), ROLLBACK),
        ((3, 51, 3), WRITE_AHEAD),
        ((3, 52, 0), ROLLBACK),
        ((3, 53, 1), WRITE_AHEAD),
    ],
)
def test_the_write_ahead_log_is_used_only_where_it_is_safe(
    version: Version, journal: Journal
) -> None:
    assert journal_for(version) == journal


@pytest.mark.parametrize(
    ("journal", "mode", "synchronous"), [(ROLLBACK, "delete", 3), (WRITE_AHEAD, "wal", 2)]
)
def test_the_connection_that_writes_is_set_as_chosen(
    tmp_path: Path, journal: Journal, mode: str, synchronous: int
) -> None:
    database = Database(tmp_path / "t.db", journal)
    asked = ("journal_mode", "synchronous", "foreign_keys", "trusted_schema", "mmap_size")
    with database.writing() as connection:
        answers = [connection.execute(text(f"PRAGMA {name}")).scalar() for name in asked]
    database.close()

    assert answers == [mode, synchronous, 1, 0, 0]


def test_this_machines_sqlite_is_judged_by_its_own_version(tmp_path: Path) -> None:
    database = Database(tmp_path / "t.db")
    database.close()

    assert database.journal == journal_for(sqlite3.sqlite_version_info)
