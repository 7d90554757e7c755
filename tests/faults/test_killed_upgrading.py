"""Killed while a newer version carries a database forward: the old one or the new, never between.

From a sample of every version there was, killed before each statement and at each step on the
disk. Every entry stays byte for byte what it was.
"""

import shutil
import sqlite3
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path

import pytest

from fieldapp.store import open_store
from fieldapp.store.backup_file import read_backup
from fieldapp.store.home import BACKUPS, DATABASE
from fieldapp.store.kept_before import kept_before
from fieldapp.store.migrations import NEWEST
from tests.faults.killed import Killing, Nursery, Trial

pytestmark = pytest.mark.slow

LEAST_KILLS, AT_RANDOM = 30, 12
SEED = 20260304
SAMPLES = sorted(Path(__file__).parents[1].glob("reference/databases/version-*.db"))

every_version = pytest.mark.parametrize("sample", SAMPLES, ids=lambda it: it.stem)


@dataclass(frozen=True)
class Found:
    """What stands in a database, as SQLite itself sees it."""

    version: str
    shape: frozenset[tuple[str, str]]
    lines: tuple[bytes, ...]


def found_in(path: Path) -> Found:
    with closing(sqlite3.connect(path)) as database:
        (version,) = database.execute("SELECT version_num FROM alembic_version").fetchone()
        shape = database.execute("SELECT name, coalesce(sql, '') FROM sqlite_master")
        lines = database.execute("SELECT line FROM entry ORDER BY sequence")
        return Found(version, frozenset(shape), tuple(line for (line,) in lines))


@pytest.fixture
def trial(tmp_path: Path, nurse: Nursery, sample: Path) -> Trial:
    start = tmp_path / "start"
    start.mkdir()
    shutil.copy(sample, start / DATABASE)
    return Trial("upgrade", start, tmp_path / "trial", nurse)


@pytest.fixture
def before(sample: Path) -> Found:
    return found_in(sample)


@pytest.fixture
def after(tmp_path: Path, sample: Path) -> Found:
    home = tmp_path / "carried forward"
    home.mkdir()
    shutil.copy(sample, home / DATABASE)
    open_store(home).close()
    return found_in(home / DATABASE)


def is_old_or_new(trial: Trial, before: Found, after: Found, died: str) -> None:
    found = found_in(trial.folder / DATABASE)
    assert found in (before, after), died
    assert found.lines == before.lines, died
    assert found == after or not trial.acknowledged(), died
    for kept in kept_before(trial.folder / BACKUPS):
        assert read_backup(kept).manifest.entries == len(before.lines), died
    trial.again()
    assert found_in(trial.folder / DATABASE) == after, died
    with open_store(trial.folder) as store:
        assert store.check().entries == len(before.lines), died


@every_version
def test_killed_before_any_statement_it_is_the_old_one_or_the_new(
    trial: Trial, before: Found, after: Found
) -> None:
    assert after.version == NEWEST
    for died in trial.killed_at_statements():
        is_old_or_new(trial, before, after, died)


@pytest.mark.parametrize("sample", SAMPLES[:1], ids=lambda it: it.stem)
def test_killed_at_any_step_on_the_disk_it_is_the_old_one_or_the_new(
    trial: Trial, before: Found, after: Found, killing: Killing
) -> None:
    for died in killing(trial):
        is_old_or_new(trial, before, after, died)
