from dataclasses import replace
from datetime import timedelta

import pytest
from sqlalchemy import text

from fieldapp.store import Store
from fieldapp.store.troubles import DatabaseDamaged
from schemas.entry import corrected
from tests.asked import times_asked
from tests.made import entry, stated


def test_entries_come_back_byte_for_byte(store: Store) -> None:
    entries = [entry(number) for number in range(3)]
    store.ledger.add(entries)

    assert [found.line for found in store.ledger.all()] == [one.line for one in entries]


def test_an_entry_added_twice_is_there_once_and_takes_no_number(store: Store) -> None:
    store.ledger.add([entry(1), entry(1)])
    store.ledger.add([entry(1), entry(2)])

    assert [kept.sequence for kept in store.ledger.after(0)] == [1, 2]


def test_more_entries_than_are_read_at_once_all_come(store: Store) -> None:
    entries = [entry(number) for number in range(1200)]
    store.ledger.add(entries)

    assert list(store.ledger.all()) == entries


def test_what_is_read_at_once_is_asked_for_once(store: Store) -> None:
    store.ledger.add([entry(1), entry(2)])

    assert times_asked(lambda: list(store.ledger.all())) == len(["begin", "select"])


def test_a_correction_takes_the_head(store: Store) -> None:
    first = entry(1)
    second = corrected(first, {"note": "taped"}, stated(2))
    store.ledger.add([first, second, entry(3)])

    assert store.ledger.heads("round") == (second, entry(3))
    assert store.ledger.of_thing(first.id) == (first, second)


def test_a_correction_that_came_before_what_it_corrects_takes_the_head_too(store: Store) -> None:
    first = entry(1)
    second = corrected(first, {"note": "taped"}, stated(2))
    store.ledger.add([second])
    store.ledger.add([first])

    assert store.ledger.heads("round") == (second,)


def test_two_corrections_of_one_revision_are_both_heads(store: Store) -> None:
    first = entry(1)
    left, right = (corrected(first, {"note": note}, stated(2)) for note in ("left", "right"))
    store.ledger.add([first, left, right])

    assert store.ledger.heads("round") == (left, right)


def test_another_thing_can_not_supersede_this_one(store: Store) -> None:
    first = entry(1)
    foreign = entry(2, parents=(first.revision,))
    other_kind = entry(3, thing=1, kind="sign_off", parents=(first.revision,))
    store.ledger.add([first, foreign, other_kind])

    assert first in store.ledger.heads("round")


def test_the_newest_time_and_the_latest_clock_are_known(store: Store) -> None:
    store.ledger.add([entry(5), entry(2)])

    assert store.ledger.newest_made_at() == entry(5).made_at
    assert store.ledger.latest_clock(0) == entry(5).clock


def test_times_with_and_without_fractions_are_compared_as_times(store: Store) -> None:
    whole = entry(1)
    just_after = replace(stated(1), made_at=whole.made_at + timedelta(microseconds=1))
    later = corrected(whole, {}, just_after)
    store.ledger.add([later, whole])

    assert store.ledger.newest_made_at() == later.made_at


def test_an_empty_ledger_says_so(store: Store) -> None:
    assert list(store.ledger.all()) == []
    assert store.ledger.get("0" * 64) is None
    assert store.ledger.latest_clock(0) is None
    assert store.ledger.newest_made_at() is None


def test_a_line_that_was_changed_behind_our_back_is_not_believed(store: Store) -> None:
    store.ledger.add([entry(1)])
    with store.database.writing() as connection:
        changed = entry(1).line.replace(b"1381", b"1382")
        connection.execute(text("UPDATE entry SET line = :line"), {"line": changed})

    with pytest.raises(DatabaseDamaged) as caught:
        store.ledger.heads("round")

    assert "entry 1" in caught.value.reason
