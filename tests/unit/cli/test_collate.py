"""`lastrow collate`: an office's database, typed on a terminal."""

import shutil
import sqlite3
from contextlib import closing
from datetime import timedelta
from pathlib import Path

import pytest

from fieldapp.work.mine import MINE_FILE
from schemas.check_number import check_number, in_groups
from schemas.entry import Stated, new_entry
from schemas.logical_clock import LogicalTime
from sync.trust import Renew
from tests.demo_mine import PRESENT
from tests.made import entry, thing_id
from tests.office import Share, demo_records, demo_share
from tests.share.strangers import Stranger
from tests.unit.cli.conftest import Terminal, Told


@pytest.fixture
def share(tmp_path: Path) -> Share:
    return demo_share(tmp_path / "share")


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "office.db"


def collate(lastrow: Terminal, share: Share, file: Path, *words: str | Path) -> Told:
    return lastrow("collate", share.place, "--database", f"sqlite:///{file}", *words)


def asked(file: Path, query: str) -> list[tuple[object, ...]]:
    with closing(sqlite3.connect(file)) as database:
        return database.execute(query).fetchall()


@pytest.mark.parametrize("place", ["no folder", "an empty folder"])
def test_where_there_is_no_share_no_database_is_made(
    place: str, lastrow: Terminal, tmp_path: Path, file: Path
) -> None:
    (tmp_path / "an empty folder").mkdir()
    told = lastrow("collate", tmp_path / place, "--database", f"sqlite:///{file}")

    assert told.code == 2
    assert told.sentence.startswith("Nothing can be collated. ")
    assert "tablet" not in told.err
    assert not file.exists()


def test_a_share_fills_a_database_and_the_site_s_number_is_told_once(
    lastrow: Terminal, share: Share, file: Path
) -> None:
    number = in_groups(check_number(demo_records().root.public_key))

    first, second = collate(lastrow, share, file), collate(lastrow, share, file)

    assert first.code == 0, first.err
    assert f"Check number of the site, as the share has it: {number}." in first.out
    assert "Came in: 8 segments with 58 entries, from tablet 1, tablet 2, tablet 3." in first.out
    assert "7 headings; 9 rounds judged again" in first.out
    assert "Came in: nothing." in second.out
    assert "Check number" not in second.out
    assert asked(file, "SELECT count(*) FROM rounds") == [(9,)]


@pytest.mark.parametrize(("days", "reminded"), [(19, False), (21, True)])
def test_the_keeper_is_reminded_when_the_records_of_trust_are_to_be_renewed(
    lastrow: Terminal, share: Share, file: Path, *, days: int, reminded: bool
) -> None:
    share.say(Renew(at=PRESENT - timedelta(days=days)))

    told = collate(lastrow, share, file).out

    assert ("was made 15 Apr 2031 09:30 UTC, 21 days ago" in told) is reminded
    assert ("lastrow enrol renew" in told) is reminded


def test_the_machine_on_which_the_mine_was_started_needs_no_number(
    lastrow: Terminal, share: Share, file: Path, home: Path
) -> None:
    assert (home / MINE_FILE).exists()
    told = collate(lastrow, share, file, "--home", home)

    assert told.code == 0, told.err
    assert "Check number" not in told.out


def test_another_mine_s_machine_refuses_a_share_that_is_not_its_own(
    lastrow: Terminal, file: Path, home: Path, tmp_path: Path
) -> None:
    told = collate(lastrow, Share(tmp_path / "other"), file, "--home", home)

    assert told.code == 2
    assert "is not signed by the site's root key" in told.sentence


def test_a_known_key_is_checked(lastrow: Terminal, share: Share, file: Path) -> None:
    key = demo_records().root.public_key

    assert "Check number" not in collate(lastrow, share, file, "--root-key", key).out
    assert collate(lastrow, share, file, "--root-key", "0" * 64).code == 2
    assert collate(lastrow, share, file, "--root-key", "key").sentence == "key is no root key."


def test_bad_files_and_strangers_are_named(lastrow: Terminal, share: Share, file: Path) -> None:
    stranger = Stranger(9)
    share.seal(stranger, entry(1))
    torn = share.seal(share.tablets[0], entry(2))
    torn.write_bytes(b"torn")

    told = collate(lastrow, share, file)

    assert told.code == 0, told.err
    assert f"has not enrolled it: {stranger.id}" in told.out
    assert f"Waits for the next time: tablets/{share.tablets[0].id}" in told.out


def test_the_password_of_a_server_is_asked_for(
    lastrow: Terminal, file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv("LASTROW_SHARE_PASSWORD", raising=False)
    words = ("collate", "smb://keeper@127.0.0.1:9/support", "--database", f"sqlite:///{file}")

    asked_for, reached_for = lastrow(*words), lastrow(*words, typed="secret\n")

    assert asked_for.sentence.startswith("The password for smb://keeper@127.0.0.1:9/support")
    assert "password" not in reached_for.err
    assert reached_for.code != 0


def test_a_time_within_words_is_told_as_the_machine_is_set(
    lastrow: Terminal, share: Share, file: Path, home: Path
) -> None:
    (home / "settings.toml").write_text('zone = "Australia/Perth"\n')
    fired = next(it for it in demo_records().entries if it.kind == "event")
    body = {**fired.body, "at": "2031-05-06T09:31:00Z", "excluded_until": "2031-05-06T10:31:00Z"}
    at = PRESENT + timedelta(minutes=1)
    said = Stated(fired.author, at, "UTC", LogicalTime(int(at.timestamp() * 1000)))
    share.seal(share.tablets[0], new_entry("event", 1, thing_id(9), body, said))

    collate(lastrow, share, file, "--home", home)

    assert any("18:31" in str(because) for (because,) in asked(file, "SELECT because FROM entry"))


def test_without_a_share_nothing_is_done(lastrow: Terminal, share: Share, file: Path) -> None:
    shutil.rmtree(share.file(""))

    told = collate(lastrow, share, file)

    assert told.code == 2
    assert not asked(file, "SELECT 1 FROM sqlite_master WHERE type = 'view'")


def test_an_address_that_is_none_is_told(lastrow: Terminal, share: Share) -> None:
    told = lastrow("collate", share.place, "--database", "office.db")

    assert told.code == 2
    assert told.sentence.startswith("office.db names no database")
