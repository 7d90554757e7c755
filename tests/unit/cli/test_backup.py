"""From a terminal: a backup, a tablet that comes back from it, and what a newer version left."""

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from fieldapp.store.backup_file import read_backup
from fieldapp.store.home import DATABASE, MINE_FILE
from tests.unit.cli.conftest import Terminal, digest_of


@pytest.fixture
def backup(lastrow: Terminal, home: Path, tmp_path: Path) -> Path:
    file = tmp_path / "tablet-7.lastrow"
    assert lastrow("backup", file, "--home", home).code == 0
    return file


def damage(home: Path) -> None:
    database = home / DATABASE
    raw = bytearray(database.read_bytes())
    raw[8192:12288] = bytes(4096)
    database.write_bytes(bytes(raw))


def test_a_backup_tells_its_size_and_how_much_it_holds(
    lastrow: Terminal, home: Path, tmp_path: Path
) -> None:
    told = lastrow("backup", tmp_path / "one.lastrow", "--home", home)

    made = read_backup(tmp_path / "one.lastrow")
    held = f"{made.size / 1000:.0f} kB, {made.manifest.entries} entries"
    assert told.code == 0, told.err
    assert f"{held}, read back and found whole." in told.out
    assert made.manifest.entries > 0


def test_a_backup_takes_nothing_s_place(lastrow: Terminal, home: Path, tmp_path: Path) -> None:
    note = tmp_path / "note.txt"
    note.write_text("mine", "utf-8")

    told = lastrow("backup", note, "--home", home)

    assert told.code == 2
    assert "already" in told.sentence
    assert note.read_text("utf-8") == "mine"


def test_a_tablet_comes_back_from_its_backup_on_another_machine(
    lastrow: Terminal, home: Path, backup: Path, tmp_path: Path
) -> None:
    new = tmp_path / "new"

    told = lastrow("restore", backup, "--home", new)

    assert told.code == 0, told.err
    assert "are here now" in told.out
    assert (new / MINE_FILE).read_bytes() == (home / MINE_FILE).read_bytes()
    assert lastrow("export", "--home", new).out == lastrow("export", "--home", home).out
    assert lastrow("board", "--home", new).out == lastrow("board", "--home", home).out
    assert lastrow("selfcheck", "--home", new).code == 0


def test_a_damaged_database_comes_back_by_one_command(
    lastrow: Terminal, home: Path, backup: Path
) -> None:
    before = lastrow("export", "--home", home).out
    damage(home)
    damaged = lastrow("board", "--home", home)
    backups = home / "backups"
    backups.mkdir()
    backup.rename(backups / "000001-20260301T053100Z.lastrow")

    told = lastrow("restore", "--newest", "--home", home)

    assert damaged.code == 5
    assert "lastrow restore --newest" in damaged.err
    assert told.code == 0, told.err
    assert "It is kept in" in told.out
    assert lastrow("export", "--home", home).out == before


def test_without_any_backup_what_can_be_read_comes_back(lastrow: Terminal, home: Path) -> None:
    damage(home)

    told = lastrow("restore", "--newest", "--home", home)

    assert told.code == 0, told.err
    assert "of the entries were read in the damaged database alone" in told.out
    assert lastrow("selfcheck", "--home", home).code == 0


def test_sound_records_are_left_alone(lastrow: Terminal, home: Path, backup: Path) -> None:
    before = (home / DATABASE).read_bytes()

    for words in ((backup,), ("--newest",)):
        told = lastrow("restore", *words, "--home", home)
        assert told.code == 2
        assert "are sound" in told.sentence
    assert (home / DATABASE).read_bytes() == before


@pytest.mark.parametrize("words", [(), ("one.lastrow", "--newest")])
def test_it_is_either_a_backup_or_the_newest(
    lastrow: Terminal, home: Path, words: tuple[str, ...]
) -> None:
    told = lastrow("restore", *words, "--home", home)

    assert told.code == 2
    assert "a backup, or --newest" in told.sentence


def test_a_file_that_is_no_backup_changes_nothing(
    lastrow: Terminal, home: Path, tmp_path: Path
) -> None:
    damage(home)
    note = tmp_path / "note.txt"
    note.write_text("mine", "utf-8")
    before = digest_of(home)

    told = lastrow("restore", note, "--home", home)

    assert told.code == 2
    assert "no backup at all" in told.sentence
    assert digest_of(home) == before


def test_a_home_without_a_mine_gets_no_backup(lastrow: Terminal, tmp_path: Path) -> None:
    told = lastrow("backup", tmp_path / "one.lastrow", "--home", tmp_path / "none")

    assert told.code == 2
    assert "No mine was started" in told.sentence
    assert not (tmp_path / "one.lastrow").exists()


# --- what a newer version left ----------------------------------------------------------------


def change(home: Path, *statements: str) -> None:
    with closing(sqlite3.connect(home / DATABASE)) as database, database:
        for statement in statements:
            database.execute(statement)


NEWER = "UPDATE alembic_version SET version_num = 'r9999'"


def test_of_a_newer_version_s_database_what_was_never_sent_can_still_be_handed_on(
    lastrow: Terminal, home: Path
) -> None:
    before = sorted(lastrow("export", "--unsent", "--home", home).out.splitlines())
    change(home, NEWER)
    content = (home / DATABASE).read_bytes()

    refused = lastrow("export", "--home", home)
    told = lastrow("export", "--unsent", "--home", home)

    assert refused.code == 5
    assert "lastrow export --unsent" in refused.err
    assert told.code == 0
    assert sorted(told.out.splitlines()) == before
    assert len(before) > 10
    assert (home / DATABASE).read_bytes() == content


def test_what_lies_in_the_share_is_not_unsent(lastrow: Terminal, home: Path) -> None:
    assert lastrow("selfcheck", "--home", home).code == 0  # seals what waits
    waiting = lastrow("export", "--unsent", "--kind", "round", "--home", home).out
    change(
        home,
        "INSERT INTO published SELECT 'aaaaaaaaaaaaaaaa', seq, substr(name, 10, 16), 0.0"
        " FROM segment",
    )

    assert waiting
    assert lastrow("export", "--unsent", "--home", home).out == ""


def test_a_newer_version_that_keeps_it_otherwise_has_everything_handed_on(
    lastrow: Terminal, home: Path
) -> None:
    everything = lastrow("export", "--unsent", "--home", home).out
    change(
        home,
        NEWER,
        "DROP TABLE published",
        "ALTER TABLE entry RENAME COLUMN origin TO stated_on",
    )

    assert lastrow("export", "--unsent", "--home", home).out == everything
