"""What holds of the holdings on the disk alone: pairing, lasting, being checked."""

from collections.abc import Callable
from datetime import timedelta
from pathlib import Path

import pytest
from sqlalchemy import text

from fieldapp.store import Store, open_store
from fieldapp.store.bring_back import bring_back_newest
from fieldapp.store.checkup import Checkup
from fieldapp.store.opening import DATABASE
from fieldapp.store.pairing import NotPaired, PairedAlready
from fieldapp.store.troubles import DatabaseDamaged
from schemas.logical_clock import LogicalTime
from sync.segment import BrokenSegment, tablet_id
from tests.made import STARTED_AT, entry
from tests.share.strangers import (
    SHARE,
    TRUST,
    Stranger,
    enrolled,
    revoked,
    say,
    states,
    take,
)

OTHER_SHARE = SHARE[:-1] + "2"


@pytest.fixture
def paired(store: Store) -> Store:
    store.holdings.pair(TRUST.store, TRUST.root_keys)
    return store


@pytest.fixture
def filled(paired: Store) -> Store:
    """A believed tablet's segment and a stranger's, an own one, a former own one, a record."""
    believed, stranger = Stranger(100), Stranger(101)
    paired.ledger.add([entry(1)])
    paired.sealing.seal()
    paired.holdings.begin_anew()
    paired.ledger.add([entry(2)])
    paired.sealing.seal()
    say(paired.holdings, enrolled(believed.key), states(entry(5)))
    take(paired.holdings, believed.seals(entry(3)), believed.identity)
    take(paired.holdings, stranger.seals(entry(4)), stranger.identity)
    return paired


def counting(store: Store) -> set[str]:
    ledger = store.ledger
    return {it.revision for it in ledger.all() if ledger.get(it.revision)}


def revisions(*numbers: int) -> set[str]:
    return {entry(it).revision for it in numbers}


# --- pairing --------------------------------------------------------------------------------


def test_a_tablet_that_belongs_to_no_share_says_so(store: Store) -> None:
    stranger = Stranger(100)
    store.holdings.keep_identity(stranger.identity)

    with pytest.raises(NotPaired):
        store.holdings.trust()
    with pytest.raises(NotPaired):
        store.holdings.take_in(*stranger.seals(entry(1)))
    assert list(store.ledger.all()) == []
    assert store.check().held == 0


def test_pairing_with_the_same_share_again_changes_nothing(filled: Store) -> None:
    before = counting(filled), filled.holdings.trust(), filled.ledger.state()
    filled.holdings.pair(TRUST.store, TRUST.root_keys)

    assert (counting(filled), filled.holdings.trust(), filled.ledger.state()) == before


@pytest.mark.parametrize(
    ("share", "roots"), [(OTHER_SHARE, TRUST.root_keys), (SHARE, ("ab" * 32,))]
)
def test_a_tablet_belongs_to_one_share_at_a_time(
    filled: Store, share: str, roots: tuple[str, ...]
) -> None:
    with pytest.raises(PairedAlready):
        filled.holdings.pair(share, roots)

    assert filled.holdings.trust().number == 1
    assert counting(filled) == revisions(1, 2, 3, 5)


def test_paired_again_it_believes_what_the_other_share_says_and_nothing_else(
    filled: Store,
) -> None:
    holdings = filled.holdings
    (own,) = (it.name for it in holdings.rows()[holdings.own_tablets()[-1]])
    holdings.set_published([own], 3)
    holdings.note_bad(["x"], "torn", 3)
    state = filled.ledger.state()

    holdings.pair(OTHER_SHARE, TRUST.root_keys, again=True)

    assert (holdings.trust().store, holdings.trust_records()) == (OTHER_SHARE, ())
    assert counting(filled) == revisions(1, 2)
    assert not holdings.published()
    assert not holdings.bad_files()
    assert filled.ledger.state() > state
    filled.check()

    say(holdings, enrolled(Stranger(101).key))
    assert counting(filled) == revisions(1, 2, 4)
    filled.check()


# --- lasting --------------------------------------------------------------------------------


def test_everything_is_there_after_a_restart(tmp_path: Path, filled: Store) -> None:
    def told(store: Store) -> tuple[object, ...]:
        held = store.holdings
        names = [it.name for row in held.rows().values() for it in row]
        return (
            held.rows(),
            held.own_tablets(),
            held.trust(),
            held.trust_records(),
            held.acknowledged(),
            held.published(),
            held.bad_files(),
            [(held.content(it), held.identity(it.tablet)) for it in names],
            counting(store),
            store.ledger.state(),
        )

    filled.holdings.set_published(
        [it.name for row in filled.holdings.rows().values() for it in row], 1.25
    )
    filled.holdings.note_bad(["x"], "torn", 3)
    before = told(filled)
    with open_store(tmp_path) as again:
        assert told(again) == before


def test_the_rows_are_right_though_another_program_wrote_them(
    tmp_path: Path, filled: Store
) -> None:
    seen = filled.holdings.rows()
    with open_store(tmp_path) as other:
        other.ledger.add([entry(9)])
        other.sealing.seal()
        other.holdings.begin_anew()
        other.ledger.add([entry(10)])
        other.sealing.seal()
        wanted = other.holdings.rows()

    assert len(wanted) == len(seen) + 1
    assert filled.holdings.rows() == wanted


def test_a_tablet_that_was_brought_back_passes_on_what_it_stated_and_nothing_of_others(
    tmp_path: Path, filled: Store
) -> None:
    filled.close()
    content = (tmp_path / DATABASE).read_bytes()
    (tmp_path / DATABASE).write_bytes(bytes(100) + content[100:])
    bring_back_newest(tmp_path, None, lambda: STARTED_AT)

    with open_store(tmp_path) as store:
        assert counting(store) == revisions(1, 2, 3, 5)
        assert store.check() == Checkup(entries=5, segments=0, waiting=2, held=3)
        believed, stranger = Stranger(100), Stranger(101)
        assert believed.id in store.holdings.trust().tablets
        say(store.holdings, enrolled(stranger.key))
        assert counting(store) == revisions(1, 2, 3, 4, 5)
        store.sealing.seal()
        assert store.check().waiting == 0


# --- being checked --------------------------------------------------------------------------


def test_a_good_store_passes_its_check_with_all_that_others_sealed(filled: Store) -> None:
    assert filled.check() == Checkup(entries=5, segments=1, waiting=0, held=3)


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE share_segment SET content = substr(content, 1, 500) WHERE number = 2",
        "UPDATE share_segment SET hash16 = '0000000000000000' WHERE number = 2",
        "UPDATE share_segment SET counts = NOT counts WHERE number = 3",
        "DELETE FROM share_segment WHERE number = 1",
        "DELETE FROM certificate",
        "DELETE FROM entry WHERE origin IS NOT NULL",
        "UPDATE entry SET counts = NOT counts",
        "UPDATE entry SET counts = 1",
        "UPDATE trust_record SET content = x'7b7d'",
    ],
)
def test_what_nobody_vouches_for_fails_the_check(
    tmp_path: Path, filled: Store, statement: str
) -> None:
    with filled.database.writing() as connection:
        connection.execute(text(statement))

    with open_store(tmp_path) as again, pytest.raises((BrokenSegment, DatabaseDamaged)):
        again.check()


def test_damaged_bytes_are_never_given_out(filled: Store) -> None:
    stranger = Stranger(101)
    _, name = stranger.seals(entry(4))
    with filled.database.writing() as connection:
        connection.execute(text("UPDATE share_segment SET content = x'00'"))

    with pytest.raises(DatabaseDamaged):
        filled.holdings.content(name)


# --- what the ledger shows ------------------------------------------------------------------


@pytest.mark.parametrize(
    "change",
    [
        lambda store: take(store.holdings, Stranger(7).seals(entry(8)), Stranger(7).identity),
        lambda store: say(store.holdings, enrolled(Stranger(101).key)),
        lambda store: say(store.holdings, revoked(Stranger(100).id, 0)),
        lambda store: say(store.holdings, states(entry(4))),
        lambda store: take(store.holdings, Stranger(100).seals(entry(4)), Stranger(100).identity),
    ],
    ids=["a new entry", "enrolled", "cut", "stated", "passed on"],
)
def test_the_state_is_another_once_something_else_counts(
    filled: Store, change: Callable[[Store], object]
) -> None:
    before = filled.ledger.state()
    change(filled)

    assert filled.ledger.state() > before


def test_the_state_is_the_same_while_the_same_counts(filled: Store) -> None:
    before = filled.ledger.state()
    filled.holdings.keep_identity(Stranger(102).identity)

    assert filled.ledger.state() == before


def test_after_a_record_of_trust_the_state_is_another_whatever_counts(filled: Store) -> None:
    """A tablet that is revoked lets nobody in, though the same counts on it."""
    before = filled.ledger.state()
    say(filled.holdings, revoked(Stranger(100).id, 1))

    assert filled.ledger.state() > before


def test_receipts_carry_this_tablet_s_clock_on(tmp_path: Path) -> None:
    with open_store(tmp_path, now=lambda: STARTED_AT + timedelta(seconds=5)) as store:
        store.ledger.add([entry(1), entry(100)])
        names = [Stranger(100).seals(entry(it))[1] for it in range(201)]
        store.holdings.acknowledge(names)
        first, second = store.ledger.of_kind("receipt")

        assert entry(100).clock < first.clock < second.clock
        assert first.clock.ms == entry(100).clock.ms
        assert first.author == tablet_id(store.keys.tablet().public_key)
        assert store.ledger.latest_clock(0) == second.clock
        assert isinstance(second.clock, LogicalTime)
