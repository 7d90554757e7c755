"""The mark beside the database tells how far was sealed; it rises and never falls."""

from errno import ENOSPC
from pathlib import Path

import pytest
from sqlalchemy import text

from fieldapp.store import Store, open_store
from fieldapp.store.high_mark import FILE, HighMark
from schemas.canonical import parse_json
from sync.durable import DiskFull
from tests.made import entry


def mark(store: Store) -> HighMark:
    content = (store.folder / FILE).read_bytes()
    return HighMark.model_validate(parse_json(content, source=FILE))


def seal(store: Store, number: int) -> str:
    store.ledger.add([entry(number)])
    (name,) = store.sealing.seal()
    return name


def no_room(*_: object) -> None:
    raise OSError(ENOSPC, "No space left on device")


def test_a_new_tablet_has_sealed_nothing(store: Store) -> None:
    assert mark(store).rows == ()
    assert store.wholeness.look() is None


def test_it_names_the_last_segment_and_how_many_entries_there_were(store: Store) -> None:
    seal(store, 1)
    last = seal(store, 2)

    (name,) = mark(store).segments()
    assert name.file == last
    assert mark(store).newest == 2
    assert mark(store).is_signed_by(store.keys.tablet().public_key)


def test_it_never_falls(store: Store) -> None:
    seal(store, 1)
    seal(store, 2)
    before = mark(store)
    with store.database.writing() as connection:
        connection.execute(text("DELETE FROM segment WHERE seq = 2"))
        connection.execute(text("DELETE FROM entry WHERE sequence = 2"))

    store.sealing.seal()
    assert mark(store) == before
    seal(store, 3)
    assert mark(store) == before


def test_a_segment_that_is_sealed_again_from_its_entries_is_the_same(store: Store) -> None:
    seal(store, 1)
    with store.database.writing() as connection:
        connection.execute(text("DELETE FROM segment"))
    assert store.wholeness.look_closely() is not None

    store.sealing.seal()

    assert store.wholeness.look_closely() is None


def test_it_keeps_the_rows_that_were_sealed_under_former_keys(store: Store) -> None:
    first = seal(store, 1)
    store.holdings.begin_anew()
    second = seal(store, 2)

    assert [it.file for it in mark(store).segments()] == [first, second]
    assert store.wholeness.look_closely() is None


def test_sealing_goes_on_where_there_is_no_room_for_it(
    store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("fieldapp.store.high_mark.replace_file", no_room)
    seal(store, 1)
    monkeypatch.undo()

    assert mark(store).rows == ()
    assert store.wholeness.look() is None
    store.sealing.seal()
    assert len(mark(store).rows) == 1


def test_where_it_can_not_be_begun_nothing_is_opened(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("fieldapp.store.high_mark.replace_file", no_room)
    with pytest.raises(DiskFull):
        open_store(tmp_path)
    monkeypatch.undo()

    with open_store(tmp_path) as store:
        assert store.wholeness.look() is None


def test_another_tablet_s_mark_is_none(store: Store, tmp_path: Path) -> None:
    seal(store, 1)
    with open_store(tmp_path / "other") as other:
        (store.folder / FILE).write_bytes((other.folder / FILE).read_bytes())

    lacking = store.wholeness.look()
    assert lacking is not None
    assert lacking.mark
