"""How entries are filed is bound as they are written; what was changed besides stays unfit."""

import pytest
from sqlalchemy import text

from fieldapp.store import Store
from fieldapp.store.binding import IN_A_PART, Binding, Part
from tests.made import entry


def add(store: Store, first: int, last: int) -> None:
    store.ledger.add([entry(number) for number in range(first, last + 1)])


def edit(store: Store, statement: str) -> None:
    with store.database.writing() as connection:
        connection.execute(text(statement))


def parts(store: Store) -> list[Part]:
    with store.database.reading() as connection:
        binding = Binding.at(connection)
        assert binding is not None
        return list(binding.parts())


def all_fit(store: Store) -> bool:
    with store.database.reading() as connection:
        binding = Binding.at(connection)
        return binding is not None and binding.all_fit()


def test_nothing_fits_where_nothing_is_kept(store: Store) -> None:
    assert parts(store) == []
    assert all_fit(store)


def test_entries_are_bound_part_by_part_as_they_come(store: Store) -> None:
    add(store, 1, 3)
    add(store, 4, 4)
    assert parts(store) == [Part(1, 4)]

    add(store, 5, IN_A_PART + 2)
    add(store, IN_A_PART + 3, 3 * IN_A_PART)

    assert all_fit(store)
    assert parts(store) == [
        Part(1, IN_A_PART),
        Part(IN_A_PART + 1, 2 * IN_A_PART),
        Part(2 * IN_A_PART + 1, 3 * IN_A_PART),
    ]


def test_a_part_that_is_half_full_is_not_bound_again(store: Store) -> None:
    """What comes 200 at a time would else be looked through two and a half times over."""
    for start in range(1, 801, 200):
        add(store, start, start + 199)

    assert all_fit(store)
    assert parts(store) == [Part(1, 400), Part(401, 800)]


@pytest.mark.parametrize(
    "statement",
    [
        "DELETE FROM entry WHERE sequence = 3",
        "DELETE FROM entry WHERE sequence = 4",
        "UPDATE entry SET heading = 'x' WHERE sequence = 3",
        "UPDATE entry SET counts = 0 WHERE sequence = 3",
        "UPDATE entry SET kind = CAST(kind AS BLOB) WHERE sequence = 3",
        "UPDATE entry SET kind = kind || char(0) WHERE sequence = 3",
        "UPDATE entry SET kind = CAST(x'ff' AS TEXT) WHERE sequence = 3",
        "UPDATE entry SET heading = '' WHERE sequence = 3",
        "UPDATE entry SET sequence = 5 WHERE sequence = 4",
        "UPDATE bound_part SET up_to = 3",
        "UPDATE bound_part SET bound = zeroblob(32)",
        "DELETE FROM bound_part",
        "UPDATE kept_key SET content = zeroblob(32) WHERE owner = 'records'",
    ],
)
def test_what_was_edited_stays_unfit_whatever_is_added(store: Store, statement: str) -> None:
    add(store, 1, 4)
    edit(store, statement)
    assert not all_fit(store)

    add(store, 10, 12)
    add(store, 13, 13)

    assert not all_fit(store)


def test_what_was_added_meanwhile_is_bound_apart(store: Store) -> None:
    add(store, 1, 4)
    edit(store, "UPDATE entry SET heading = 'x' WHERE sequence = 3")
    add(store, 10, 12)
    edit(store, "UPDATE entry SET heading = NULL WHERE sequence = 3")

    assert parts(store) == [Part(1, 4), Part(5, 7)]
    assert all_fit(store)


def test_an_entry_put_in_by_another_program_never_fits(store: Store) -> None:
    add(store, 1, 4)
    columns = "revision, kind, thing_id, made_at, clock, line, counts"
    edit(store, f"INSERT INTO entry ({columns}) VALUES ('0', 'a', 'b', 'c', 'd', x'00', 1)")  # noqa: S608
    add(store, 10, 12)

    assert not all_fit(store)
