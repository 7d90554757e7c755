import pytest
from sqlalchemy import text

from fieldapp.store import Store
from fieldapp.store.checkup import Checkup
from fieldapp.store.troubles import DatabaseDamaged
from sync.segment import BrokenSegment, open_segment
from tests.made import entry


def add(store: Store, numbers: range) -> None:
    store.ledger.add([entry(number) for number in numbers])


def spoil(store: Store, statement: str) -> None:
    with store.database.writing() as connection:
        connection.execute(text(statement))


def test_sealed_entries_are_all_there_in_their_order(store: Store) -> None:
    add(store, range(450))
    names = store.sealing.seal()
    public_key = store.keys.tablet().public_key

    lines = [
        line
        for name, content in store.sealing.segments()
        for line in open_segment(name, content, public_key=public_key).lines
    ]
    assert [name[:8] for name in names] == ["00000001", "00000002", "00000003"]
    assert lines == [entry(number).line for number in range(450)]


def test_sealing_goes_on_where_it_ended(store: Store) -> None:
    add(store, range(3))
    first = store.sealing.seal()
    add(store, range(3, 5))

    assert store.sealing.waiting() == 2
    second = store.sealing.seal()

    assert [name for name, _ in store.sealing.segments()] == [*first, *second]
    assert store.sealing.waiting() == 0
    assert store.sealing.check() == 2


def test_with_nothing_to_seal_nothing_is_sealed(store: Store) -> None:
    add(store, range(3))
    store.sealing.seal()

    assert store.sealing.seal() == ()
    assert store.sealing.check() == 1


def test_a_good_store_passes_its_check(store: Store) -> None:
    add(store, range(201))
    store.sealing.seal()
    add(store, range(201, 203))

    assert store.check() == Checkup(entries=203, segments=2, waiting=2)


@pytest.mark.parametrize(
    "statement",
    [
        "DELETE FROM segment WHERE seq = 1",
        "UPDATE segment SET content = substr(content, 1, 700) WHERE seq = 2",
        "UPDATE segment SET name = '00000002-0000000000000000.seg' WHERE seq = 2",
    ],
)
def test_a_spoilt_row_of_segments_fails_the_check(store: Store, statement: str) -> None:
    add(store, range(401))
    store.sealing.seal()
    spoil(store, statement)

    with pytest.raises(BrokenSegment):
        store.check()


@pytest.mark.parametrize(
    "statement",
    ["DELETE FROM entry WHERE sequence = 2", "UPDATE entry SET line = x'7b7d' WHERE sequence = 2"],
)
def test_an_entry_that_was_taken_out_or_changed_fails_the_check(
    store: Store, statement: str
) -> None:
    add(store, range(3))
    store.sealing.seal()
    spoil(store, statement)

    with pytest.raises(DatabaseDamaged):
        store.check()


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE entry SET kind = 'walk' WHERE sequence = 2",
        "UPDATE entry SET made_at = '2020' WHERE sequence = 2",
        "UPDATE entry SET clock = '' WHERE sequence = 2",
        "INSERT INTO entry_parent VALUES ('a', 'b')",
    ],
)
def test_what_is_filed_wrongly_fails_the_check(store: Store, statement: str) -> None:
    add(store, range(3))
    spoil(store, statement)

    with pytest.raises(DatabaseDamaged):
        store.check()


def test_another_tablets_key_fails_the_check(store: Store) -> None:
    add(store, range(3))
    store.sealing.seal()
    spoil(store, "UPDATE kept_key SET content = zeroblob(32)")

    with pytest.raises(BrokenSegment):
        store.check()
