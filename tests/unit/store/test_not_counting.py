"""What another tablet stated and nobody vouches for is kept, and no question sees it."""

from collections.abc import Sequence
from datetime import timedelta

import pytest

from fieldapp.store import Store
from fieldapp.store.checkup import Checkup
from fieldapp.store.ledger import write_entries
from schemas.entry import Entry, corrected, new_entry
from schemas.logical_clock import FARTHEST_HEARD_MS, LogicalTime
from tests.made import entry, stated, thing_id

NOW_MS = stated(0).clock.ms


def hear(store: Store, entries: Sequence[Entry], *, counts: bool = True) -> None:
    with store.database.writing() as connection:
        write_entries(connection, entries, origin="another", counts=counts)


def heard_at(ms: int) -> Entry:
    by = stated(1)
    return new_entry(
        "event", 1, thing_id(1), {}, type(by)("p-2", by.made_at, by.zone, LogicalTime(ms))
    )


def test_only_the_whole_ledger_shows_it(store: Store) -> None:
    strange = entry(2, {"heading": "A", "round": thing_id(1)})
    store.ledger.add([entry(1, {"heading": "A"})])
    before = store.ledger.filed(("round",))
    hear(store, [strange, entry(3, kind="heading")], counts=False)
    ledger = store.ledger

    assert strange in ledger.all()
    assert [it.sequence for it in ledger.after(0)] == [1, 2, 3]
    assert strange not in ledger.of_kind("round")
    assert ledger.of_thing(strange.id) == ()
    assert ledger.get(strange.revision) is None
    assert list(ledger.naming("round", "heading", "A")) == [entry(1, {"heading": "A"})]
    assert ledger.filed(("round",)) == before
    assert ledger.newest_made_at() == entry(1).made_at


def test_it_supersedes_nothing(store: Store) -> None:
    first = entry(1)
    store.ledger.add([first])
    hear(store, [corrected(first, {"note": "all good"}, stated(2))], counts=False)

    assert store.ledger.heads("round") == (first,)


def test_what_others_stated_is_not_sealed_again(store: Store) -> None:
    store.ledger.add([entry(1)])
    hear(store, [entry(2)])
    store.ledger.add([entry(3)])

    assert store.sealing.waiting() == 2
    store.sealing.seal()
    hear(store, [entry(4)])

    assert store.check() == Checkup(entries=4, segments=1, waiting=0)


@pytest.mark.parametrize("counts", [True, False])
def test_a_clock_years_ahead_does_not_drag_this_one_along(store: Store, counts: bool) -> None:  # noqa: FBT001
    store.ledger.add([entry(0)])
    years = int(timedelta(days=2000).total_seconds() * 1000)
    hear(store, [heard_at(NOW_MS + years)], counts=counts)

    assert store.ledger.latest_clock(NOW_MS) == entry(0).clock


def test_a_clock_somewhat_ahead_is_followed(store: Store) -> None:
    store.ledger.add([entry(0)])
    farthest = NOW_MS + FARTHEST_HEARD_MS
    hear(store, [heard_at(farthest), heard_at(farthest + 1), heard_at(5)])

    assert store.ledger.latest_clock(NOW_MS) == LogicalTime(farthest)


def test_this_tablet_s_own_clock_never_goes_back(store: Store) -> None:
    store.ledger.add([entry(0)])
    hear(store, [heard_at(5)])

    assert store.ledger.latest_clock(0) == entry(0).clock
