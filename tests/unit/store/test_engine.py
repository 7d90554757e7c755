import threading
from pathlib import Path

import pytest
from sqlalchemy import text
from sqlalchemy.exc import IntegrityError

from fieldapp.store import Store, open_store
from fieldapp.store.engine import Database
from fieldapp.store.troubles import DatabaseBusy, DatabaseNewer, NotOurDatabase
from sync.durable import DiskFailed
from tests.made import entry


def test_a_reader_can_not_write(store: Store) -> None:
    with (
        pytest.raises(DiskFailed, match="readonly"),
        store.database.reading() as connection,
    ):
        connection.execute(text("DELETE FROM entry"))


def test_a_step_that_fails_changes_nothing(store: Store) -> None:
    insert = text("INSERT INTO code_try VALUES ('p-1', 1, '')")

    def fail() -> None:
        with store.database.writing() as connection:
            connection.execute(insert)
            connection.execute(insert)

    with pytest.raises(IntegrityError):
        fail()

    with store.database.reading() as connection:
        assert connection.execute(text("SELECT count(*) FROM code_try")).scalar() == 0


def test_after_a_step_that_failed_the_next_one_works(store: Store) -> None:
    with pytest.raises(IntegrityError), store.database.writing() as connection:
        connection.execute(text("INSERT INTO code_try VALUES (NULL, NULL, NULL)"))

    store.ledger.add([entry(1)])

    assert list(store.ledger.all()) == [entry(1)]


def test_many_threads_write_and_read_at_once(store: Store) -> None:
    store.drafts.begin("d-1", b"about")
    seen: list[int] = []

    def work(number: int) -> None:
        for _ in range(5):
            store.drafts.touch("d-1", b"%d" % number)
            seen.append(len(store.drafts.touches("d-1")))

    threads = [threading.Thread(target=work, args=(number,)) for number in range(6)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()

    assert len(seen) == 30
    assert len(store.drafts.touches("d-1")) == 30


def test_another_program_that_holds_on_is_told(
    store: Store, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("fieldapp.store.journal.BUSY_TIMEOUT_MS", 10)
    other = Database(tmp_path / "lastrow.db")
    with (
        store.database.writing(),
        pytest.raises(DatabaseBusy),
        other.writing(),
    ):
        pass
    other.close()


def test_a_folder_that_can_not_be_written_is_told(tmp_path: Path) -> None:
    (tmp_path / "home").write_text("a file")

    with pytest.raises(DiskFailed):
        open_store(tmp_path / "home")


def test_odd_letters_in_a_folders_name_do_no_harm(tmp_path: Path) -> None:
    folder = tmp_path / "50% wet? #3 ü"

    with open_store(folder) as store:
        store.ledger.add([entry(1)])

    assert (folder / "lastrow.db").stat().st_size > 0


def test_another_programs_database_is_left_alone(tmp_path: Path) -> None:
    database = Database(tmp_path / "lastrow.db")
    with database.writing() as connection:
        connection.execute(text("CREATE TABLE songs (title)"))
    database.close()
    before = (tmp_path / "lastrow.db").read_bytes()

    with pytest.raises(NotOurDatabase):
        open_store(tmp_path)

    assert (tmp_path / "lastrow.db").read_bytes() == before


def test_a_newer_programs_database_is_left_alone(tmp_path: Path) -> None:
    with open_store(tmp_path) as store, store.database.writing() as connection:
        connection.execute(text("UPDATE alembic_version SET version_num = 'r9999'"))
    before = (tmp_path / "lastrow.db").read_bytes()

    with pytest.raises(DatabaseNewer) as caught:
        open_store(tmp_path)

    assert caught.value.version == "r9999"
    assert (tmp_path / "lastrow.db").read_bytes() == before
