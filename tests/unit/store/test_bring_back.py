"""A home is brought back from a backup, and from what a damaged database still shows."""

import shutil
from pathlib import Path

import pytest
from sqlalchemy import text

from fieldapp.store import open_store
from fieldapp.store.backup import write_backup
from fieldapp.store.backup_file import BadBackup
from fieldapp.store.backups import generations, keep_generation
from fieldapp.store.bring_back import (
    BackupOfAnother,
    HomeSound,
    NoBackup,
    bring_back,
    bring_back_newest,
)
from fieldapp.store.home import (
    BACKUPS,
    BEING_BROUGHT_BACK,
    BROUGHT_BACK,
    DATABASE,
    MARKER,
    MINE_FILE,
    SETTINGS_FILE,
)
from fieldapp.store.troubles import DatabaseNewer
from sync.segment import tablet_id
from tests.made import PERSON_KEY, STARTED_AT, entry
from tests.unit.store.homes import (
    AFTER,
    BEFORE,
    MINE,
    SETTINGS,
    brought_back,
    digest,
    filled_home,
    headless,
    newest,
    numbers,
    spoil,
    unreadable,
)

PAGE_BYTES = 4096
REFERENCE = Path(__file__).parents[2] / "reference/databases"


@pytest.fixture
def home(tmp_path: Path) -> Path:
    return filled_home(tmp_path / "home")


# --- into an empty home -------------------------------------------------------------------------


@pytest.mark.parametrize("there", ["nothing", "a folder", "an empty database", "a log"])
def test_an_empty_home_holds_what_the_backup_held(home: Path, tmp_path: Path, there: str) -> None:
    new = tmp_path / "new"
    if there == "an empty database":
        open_store(new).close()
    if there == "a log":
        (new / "log").mkdir(parents=True)
    if there == "a folder":
        new.mkdir()

    brought = bring_back(new, newest(home), lambda: STARTED_AT)

    assert (brought.entries, brought.read, brought.missing, brought.copy) == (20, 0, 0, None)
    assert (new / MINE_FILE).read_bytes() == MINE
    assert (new / SETTINGS_FILE).read_bytes() == SETTINGS
    with open_store(new) as store:
        assert numbers(store) == set(BEFORE)
        assert store.drafts.touches("d-1") == (b"touch 1",)
        assert store.keys.unlock("p-1", "4711", now=STARTED_AT) == PERSON_KEY
        assert store.check().held == 1
    assert not (new / BEING_BROUGHT_BACK).exists()
    assert not (new / BROUGHT_BACK).exists()


def test_it_goes_on_by_a_new_key_from_the_start_and_seals_nothing_twice(
    home: Path, tmp_path: Path
) -> None:
    with open_store(home) as store:
        before = store.keys.tablet().public_key
        sealed = store.holdings.rows()[tablet_id(before)]
    bring_back(tmp_path / "new", newest(home), lambda: STARTED_AT)

    with open_store(tmp_path / "new") as store:
        own = store.holdings.own_tablets()
        identity = store.holdings.identity(own[-1])
        store.ledger.add([entry(50)])
        store.sealing.seal()
        rows = store.holdings.rows()
        assert identity
        assert identity.predecessor == before
        assert own == (tablet_id(before), identity.tablet)
        assert rows[own[0]] == sealed
        assert [it.name.seq for it in rows[own[1]]] == [1]
        assert store.check().waiting == 0


def test_two_that_come_back_from_one_backup_go_by_different_keys(
    home: Path, tmp_path: Path
) -> None:
    ids = set()
    for name in ("one", "other"):
        bring_back(tmp_path / name, newest(home), lambda: STARTED_AT)
        with open_store(tmp_path / name) as store:
            ids.add(store.holdings.own_tablets()[-1])

    assert len(ids) == 2


@pytest.mark.parametrize("version", [1, 2])
def test_a_backup_of_an_older_version_is_carried_forward(tmp_path: Path, version: int) -> None:
    old = tmp_path / "old"
    old.mkdir()
    shutil.copy(REFERENCE / f"version-{version}.db", old / DATABASE)
    backup = write_backup(old / DATABASE, tmp_path / "old.lastrow", STARTED_AT)

    brought = bring_back(tmp_path / "new", backup, lambda: STARTED_AT)

    with open_store(tmp_path / "new") as store:
        assert store.check().entries == brought.entries == backup.manifest.entries > 0


def test_a_backup_of_a_newer_version_is_refused_and_nothing_is_left(
    home: Path, tmp_path: Path
) -> None:
    with open_store(home) as store, store.database.writing() as connection:
        connection.execute(text("UPDATE alembic_version SET version_num = 'r9999'"))
    backup = write_backup(home / DATABASE, tmp_path / "newer.lastrow", STARTED_AT)

    with pytest.raises(DatabaseNewer):
        bring_back(tmp_path / "new", backup, lambda: STARTED_AT)

    assert not (tmp_path / "new" / DATABASE).exists()
    assert not (tmp_path / "new" / MINE_FILE).exists()


# --- over a damaged one -------------------------------------------------------------------------


def test_what_the_backup_holds_and_what_can_be_read_come_together(home: Path) -> None:
    damaged = spoil(home, headless)

    brought = brought_back(home)

    assert (brought.entries, brought.read, brought.missing) == (30, 10, 0)
    assert brought.copy
    assert (brought.copy / DATABASE).read_bytes() == damaged
    with open_store(home) as store:
        assert numbers(store) == {*BEFORE, *AFTER}
        assert store.drafts.touches("d-1") == (b"touch 1", b"touch 2")
        assert {it.draft_id for it in store.drafts.open_drafts()} == {"d-1", "d-3"}
        assert store.keys.unlock("p-1", "0815", now=STARTED_AT) == PERSON_KEY
        assert store.check().waiting == 10


def test_where_nothing_can_be_read_the_backup_alone_comes_back(home: Path) -> None:
    spoil(home, unreadable)

    brought = brought_back(home)

    assert (brought.entries, brought.read) == (20, 0)
    with open_store(home) as store:
        assert numbers(store) == set(BEFORE)
        assert store.drafts.touches("d-1") == (b"touch 1",)


def test_whichever_page_is_lost_everything_that_was_backed_up_comes_back(home: Path) -> None:
    with open_store(home) as store:
        assert not keep_generation(store).troubles
    whole = (home / DATABASE).read_bytes()
    found, came_back = 0, 0
    for start in range(0, len(whole), PAGE_BYTES):
        (home / DATABASE).write_bytes(
            whole[:start] + b"\xa5" * PAGE_BYTES + whole[start + PAGE_BYTES :]
        )
        try:
            brought_back(home)
            came_back += 1
        except HomeSound:
            found += 1
        with open_store(home) as store:
            assert numbers(store) == {*BEFORE, *AFTER}, f"page {start // PAGE_BYTES + 1}"
            assert store.drafts.touches("d-1") == (b"touch 1", b"touch 2")
            store.check()

    assert came_back > found, "pages that hold nothing are not missed"


def test_a_database_that_is_gone_comes_back_too(home: Path) -> None:
    (home / DATABASE).unlink()

    assert brought_back(home).entries == 20


def test_a_draft_that_became_its_round_after_the_backup_is_not_open_again(home: Path) -> None:
    became = entry(40)
    with open_store(home) as store:
        store.drafts.begin(became.id, b"about the round")
        store.drafts.touch(became.id, b"touch")
        assert not keep_generation(store).troubles
        store.drafts.finish(became.id, [became])

    def how(content: bytearray) -> None:
        about = content.index(b"about the round")
        content[about : about + 5] = b"\0" * 5
        headless(content)

    spoil(home, how)
    brought_back(home)

    with open_store(home) as store:
        assert became.id not in {it.draft_id for it in store.drafts.open_drafts()}
        assert store.ledger.get(became.revision)


def test_the_settings_of_the_home_stay_as_they_are(home: Path) -> None:
    (home / SETTINGS_FILE).write_bytes(b'theme = "bright"\n')
    spoil(home, headless)
    brought_back(home)

    assert (home / SETTINGS_FILE).read_bytes() == b'theme = "bright"\n'


def test_a_torn_mine_comes_back_and_the_torn_one_is_kept_aside(home: Path) -> None:
    (home / MINE_FILE).write_bytes(MINE[:10])

    brought = brought_back(home)

    assert (home / MINE_FILE).read_bytes() == MINE
    (aside,) = home.glob("mine-torn-*.json")
    assert aside.read_bytes() == MINE[:10]
    assert brought.entries == 30


# --- which backup -------------------------------------------------------------------------------


def test_the_newest_that_is_good_is_taken(home: Path) -> None:
    with open_store(home) as store:
        assert not keep_generation(store).troubles
    first, second = generations(home / BACKUPS)
    second.path.write_bytes(second.path.read_bytes()[:-100])
    spoil(home, unreadable)

    brought = brought_back(home)

    assert brought.backup
    assert brought.backup.path == first.path


def test_one_in_the_second_place_is_taken_where_the_first_has_none(
    home: Path, tmp_path: Path
) -> None:
    stick = tmp_path / "stick"
    stick.mkdir()
    with open_store(home) as store:
        assert not keep_generation(store, stick).troubles
    shutil.rmtree(home / BACKUPS)
    spoil(home, unreadable)

    assert bring_back_newest(home, stick, lambda: STARTED_AT).entries == 30


def test_one_from_before_an_upgrade_is_better_than_none(tmp_path: Path) -> None:
    shutil.copy(REFERENCE / "version-2.db", tmp_path / DATABASE)
    open_store(tmp_path).close()
    spoil(tmp_path, unreadable)

    assert brought_back(tmp_path).entries == 11


def test_with_neither_backup_nor_database_there_is_nothing_to_bring_back(home: Path) -> None:
    shutil.rmtree(home / BACKUPS)
    (home / DATABASE).unlink()

    with pytest.raises(NoBackup):
        brought_back(home)

    assert (home / MARKER).exists()


# --- refused, and nothing touched ---------------------------------------------------------------


def test_records_that_are_sound_are_left_alone(home: Path) -> None:
    before = digest(home)

    with pytest.raises(HomeSound):
        bring_back(home, newest(home), lambda: STARTED_AT)

    assert digest(home) == before


@pytest.mark.parametrize("other", [b'"site_key":"bb"', b'"tablet":"t-8"'])
def test_a_backup_of_another_mine_or_tablet_is_refused(
    home: Path, tmp_path: Path, other: bytes
) -> None:
    elsewhere = tmp_path / "elsewhere"
    with open_store(elsewhere) as store:
        name = other.partition(b":")[0]
        ours = b'"site_key":"aa"' if name == b'"site_key"' else b'"tablet":"t-7"'
        (elsewhere / MINE_FILE).write_bytes(MINE.replace(ours, other))
        store.ledger.add([entry(1)])
    backup = write_backup(elsewhere / DATABASE, tmp_path / "other.lastrow", STARTED_AT)
    spoil(home, unreadable)
    before = digest(home)

    with pytest.raises(BackupOfAnother):
        bring_back(home, backup, lambda: STARTED_AT)

    assert digest(home) == before


def test_a_backup_that_is_torn_between_reading_and_unpacking_changes_nothing(home: Path) -> None:
    backup = newest(home)
    spoil(home, headless)
    backup.path.write_bytes(backup.path.read_bytes()[:-1000])

    with pytest.raises(BadBackup):
        bring_back(home, backup, lambda: STARTED_AT)

    assert brought_back(home).entries == 30, "of the database alone"
