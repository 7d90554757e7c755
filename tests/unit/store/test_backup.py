"""A backup is one file that proves itself, made while others go on writing."""

import random
import shutil
import threading
import zipfile
from collections.abc import Callable
from pathlib import Path
from types import SimpleNamespace

import pytest
from sqlalchemy import text

from fieldapp.store import Store, open_store
from fieldapp.store.backup import AlreadyThere, MineTorn, write_backup
from fieldapp.store.backup_file import MANIFEST, Backup, BadBackup, read_backup, unpack
from fieldapp.store.home import DATABASE, MINE_FILE, SETTINGS_FILE
from fieldapp.store.troubles import DatabaseDamaged
from sync.durable import DiskFailed, DiskFull
from tests.made import STARTED_AT, entry
from tests.unit.store.homes import MINE, SETTINGS


@pytest.fixture
def home(tmp_path: Path, store: Store) -> Path:
    store.ledger.add(entry(number) for number in range(20))
    (tmp_path / MINE_FILE).write_bytes(MINE)
    (tmp_path / SETTINGS_FILE).write_bytes(SETTINGS)
    return tmp_path


def backed_up(home: Path, name: str = "one.lastrow") -> Backup:
    return write_backup(home / DATABASE, home / name, STARTED_AT)


def test_it_says_whose_it_is_when_it_was_made_and_how_much_it_holds(home: Path) -> None:
    made = backed_up(home)

    assert made == read_backup(home / "one.lastrow")
    assert made.manifest.whose.words() == "tablet t-7 of Wrenfall"
    assert made.manifest.made_at == STARTED_AT
    assert made.manifest.entries == 20
    assert made.size == made.path.stat().st_size


def test_it_holds_the_database_the_mine_and_the_settings(home: Path, tmp_path: Path) -> None:
    folder = tmp_path / "unpacked"
    folder.mkdir()
    unpack(backed_up(home), folder)

    assert (folder / MINE_FILE).read_bytes() == MINE
    assert (folder / SETTINGS_FILE).read_bytes() == SETTINGS
    with open_store(folder) as again:
        assert [it.line for it in again.ledger.all()] == [entry(n).line for n in range(20)]


def test_it_writes_over_nothing(home: Path) -> None:
    backed_up(home)
    before = (home / "one.lastrow").read_bytes()

    with pytest.raises(AlreadyThere):
        backed_up(home)

    assert (home / "one.lastrow").read_bytes() == before


def test_it_leaves_nothing_else_behind(home: Path) -> None:
    before = set(home.iterdir())
    backed_up(home)

    assert set(home.iterdir()) - before == {home / "one.lastrow"}


def test_others_go_on_writing_while_it_is_made(home: Path, store: Store) -> None:
    done = threading.Event()
    written = []

    def write() -> None:
        number = 100
        while not done.is_set():
            store.ledger.add([entry(number)])
            written.append(number)
            number += 1

    writer = threading.Thread(target=write)
    writer.start()
    made = [backed_up(home, f"{number}.lastrow") for number in range(5)]
    done.set()
    writer.join()

    held = [it.manifest.entries for it in made]
    assert held == sorted(held)
    assert held[0] >= 20
    assert held[-1] <= 20 + len(written)
    assert store.check().entries == 20 + len(written)


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE entry SET line = x'7b7d' WHERE sequence = 3",
        "UPDATE segment SET content = x'00'",
    ],
)
def test_of_a_database_that_is_not_what_it_was_no_backup_is_made(
    home: Path, store: Store, statement: str
) -> None:
    store.sealing.seal()
    with store.database.writing() as connection:
        connection.execute(text(statement))

    with pytest.raises(DatabaseDamaged):
        backed_up(home)

    assert not list(home.glob("*.lastrow"))


def test_of_a_home_whose_mine_is_torn_no_backup_is_made(home: Path) -> None:
    (home / MINE_FILE).write_bytes(MINE[:20])

    with pytest.raises(MineTorn):
        backed_up(home)


def test_without_room_nothing_is_begun(home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    size = (home / DATABASE).stat().st_size
    monkeypatch.setattr(shutil, "disk_usage", lambda _path: SimpleNamespace(free=2 * size))

    with pytest.raises(DiskFull):
        backed_up(home)


def test_a_folder_that_is_not_there_is_told(home: Path) -> None:
    with pytest.raises(DiskFailed):
        backed_up(home, "stick/one.lastrow")


def cut(content: bytearray) -> None:
    del content[len(content) * 2 // 3 :]


@pytest.mark.parametrize(
    "how", [bytearray.clear, cut, lambda content: content.__setitem__(slice(None), b"no" * 99)]
)
def test_a_torn_one_is_refused(home: Path, how: Callable[[bytearray], None]) -> None:
    path = backed_up(home).path
    content = bytearray(path.read_bytes())
    how(content)
    path.write_bytes(content)

    with pytest.raises(BadBackup):
        read_backup(path)


@pytest.mark.parametrize("seed", range(60))
def test_with_a_bit_flipped_it_is_refused_or_holds_what_was_put_in(home: Path, seed: int) -> None:
    chance = random.Random(seed)  # noqa: S311 - places, not secrets
    made = backed_up(home)
    content = bytearray(made.path.read_bytes())
    content[chance.randrange(len(content))] ^= 1 << chance.randrange(8)
    made.path.write_bytes(content)
    try:
        found = read_backup(made.path)
    except BadBackup:
        return

    assert found.manifest.files == made.manifest.files


def test_one_of_a_newer_version_or_with_other_files_is_refused(home: Path) -> None:
    said = backed_up(home).manifest
    changed = (
        said.model_copy(update={"lastrow_backup": 2}),
        said.model_copy(update={"files": said.files[1:]}),
        said.model_copy(
            update={"files": (*said.files, said.files[0].model_copy(update={"name": "../x"}))}
        ),
    )
    for number, manifest in enumerate(changed):
        path = home / f"changed-{number}.lastrow"
        with zipfile.ZipFile(path, "w") as packed:
            packed.writestr(MANIFEST, manifest.model_dump_json())

        with pytest.raises(BadBackup):
            read_backup(path)


def test_what_is_not_there_is_no_backup(tmp_path: Path) -> None:
    with pytest.raises(BadBackup) as told:
        read_backup(tmp_path / "none.lastrow")

    assert "no such file" in told.value.reason
