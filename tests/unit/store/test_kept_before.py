"""Before a newer version carries a database forward, it is kept as it was."""

import shutil
from pathlib import Path
from types import SimpleNamespace

import pytest

from fieldapp.store import open_store
from fieldapp.store.backup_file import read_backup, unpack
from fieldapp.store.engine import Database
from fieldapp.store.home import BACKUPS
from fieldapp.store.kept_before import kept_before
from fieldapp.store.migrations import NEWEST
from fieldapp.store.opening import DATABASE
from fieldapp.store.upgrade import version_of
from sync.durable import DiskFull

VERSION_1 = Path(__file__).parents[2] / "reference/databases/version-1.db"


def kept_in(folder: Path) -> list[Path]:
    return kept_before(folder / BACKUPS)


def version(path: Path) -> str | None:
    database = Database(path)
    try:
        return version_of(database)
    finally:
        database.close()


def test_an_older_database_is_kept_as_it_was(tmp_path: Path) -> None:
    shutil.copy(VERSION_1, tmp_path / DATABASE)

    with open_store(tmp_path) as store:
        lines = [entry.line for entry in store.ledger.all()]

    (kept,) = kept_in(tmp_path)
    backup = read_backup(kept)
    assert backup.manifest.version == "r0001"
    assert version(tmp_path / DATABASE) == NEWEST
    older = tmp_path / "older"
    older.mkdir()
    unpack(backup, older)
    assert version(older / DATABASE) == "r0001"
    with open_store(older) as store:
        assert [entry.line for entry in store.ledger.all()] == lines


def test_a_new_one_and_one_of_this_version_need_no_copy(tmp_path: Path) -> None:
    for _ in range(2):
        open_store(tmp_path).close()

    assert not kept_in(tmp_path)


def test_without_room_for_a_copy_nothing_is_begun(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    shutil.copy(VERSION_1, tmp_path / DATABASE)
    before = (tmp_path / DATABASE).read_bytes()
    monkeypatch.setattr(shutil, "disk_usage", lambda _path: SimpleNamespace(free=len(before)))

    with pytest.raises(DiskFull):
        open_store(tmp_path)

    assert (tmp_path / DATABASE).read_bytes() == before
    assert not kept_in(tmp_path)
    assert not list(tmp_path.rglob("*.tmp"))


def test_only_the_one_before_the_last_upgrade_is_kept(tmp_path: Path) -> None:
    older = tmp_path / BACKUPS / "before-upgrade-of-r0000.lastrow"
    older.parent.mkdir()
    older.write_bytes(b"a backup of long ago")
    shutil.copy(VERSION_1, tmp_path / DATABASE)
    open_store(tmp_path).close()

    assert [it.name for it in kept_in(tmp_path)] == ["before-upgrade-of-r0001.lastrow"]
