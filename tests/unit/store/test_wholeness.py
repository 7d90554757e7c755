"""A tablet that nobody tampered with lacks nothing; what anybody sealed is put back here."""

# ruff: noqa: S608 - the statements are those of somebody who edits a database

import shutil
from pathlib import Path

import pytest
from sqlalchemy import text

from fieldapp.store import Store, open_store
from fieldapp.store.lacking import Lacking
from fieldapp.store.opening import DATABASE
from tests.made import entry
from tests.share.strangers import TRUST, Stranger, enrolled, revoked, say, states, take
from tests.unit.store.test_upgrade import VERSION_1, VERSION_2

BELIEVED, STRANGER = Stranger(100), Stranger(101)


@pytest.fixture
def filled(store: Store) -> Store:
    """A believed tablet's segments and a stranger's, own ones, a former own one, a record."""
    believed, stranger, holdings = Stranger(100), Stranger(101), store.holdings
    holdings.pair(TRUST.store, TRUST.root_keys)
    store.ledger.add([entry(1), entry(20, {"heading": "A"})])
    store.sealing.seal()
    holdings.begin_anew()
    take(holdings, believed.seals(entry(3, {"heading": "B"}), entry(30)), believed.identity)
    store.ledger.add([entry(2)])
    store.sealing.seal()
    say(holdings, enrolled(believed.key), states(entry(5)))
    take(holdings, stranger.seals(entry(4, {"heading": "C"})), stranger.identity)
    return store


def edit(store: Store, statement: str) -> None:
    with store.database.writing() as connection:
        assert connection.execute(text(statement)).rowcount, "the edit hits something"


def of(number: int) -> str:
    return f"revision = '{entry_of(number)}'"


def entry_of(number: int) -> str:
    bodies = {20: {"heading": "A"}, 3: {"heading": "B"}, 4: {"heading": "C"}}
    return entry(number, bodies.get(number)).revision


def looked(store: Store) -> Lacking:
    found = store.wholeness.look_closely()
    assert found is not None
    return found


def test_nothing_is_lacking_in_an_honest_life(filled: Store) -> None:
    assert filled.wholeness.look() is None

    say(filled.holdings, enrolled(STRANGER.key))
    say(filled.holdings, revoked(BELIEVED.id, valid_through=0))
    filled.ledger.add([entry(6)])

    assert filled.wholeness.look() is None
    assert filled.wholeness.look_closely() is None


def test_nor_after_a_restart(filled: Store) -> None:
    filled.close()

    with open_store(filled.folder) as again:
        assert again.wholeness.look() is None


@pytest.mark.parametrize("version", [VERSION_1, VERSION_2], ids=["1", "2"])
def test_what_an_older_version_kept_is_bound_at_the_first_look(
    tmp_path: Path, version: Path
) -> None:
    shutil.copy(version, tmp_path / DATABASE)

    with open_store(tmp_path) as store:
        assert store.wholeness.look() is None
        edit(store, "UPDATE entry SET counts = 0 WHERE sequence = 3")
    with open_store(tmp_path) as store:
        assert store.wholeness.look() is not None


def test_what_an_older_version_kept_is_not_bound_where_it_lacks_something(tmp_path: Path) -> None:
    shutil.copy(VERSION_2, tmp_path / DATABASE)
    with open_store(tmp_path) as store:
        edit(store, "DELETE FROM entry WHERE sequence = 2")

        assert store.wholeness.look() is not None
        assert store.wholeness.look_closely() is not None


GONE = {
    "stated here, sealed under a former key": ("DELETE FROM entry WHERE " + of(20), {"A"}),
    "another tablet's": ("DELETE FROM entry WHERE " + of(3), {"B"}),
    "another tablet's, that counted": ("UPDATE entry SET counts = 0 WHERE " + of(3), {"B"}),
    "a stranger's, that did not count": ("UPDATE entry SET counts = 1 WHERE " + of(4), {"C"}),
    "another's line": (f"UPDATE entry SET line = x'7b7d' WHERE {of(3)}", {"B"}),
    "another's revision": (f"UPDATE entry SET revision = 'a' WHERE {of(3)}", {"B"}),
    "about no heading": ("DELETE FROM entry WHERE " + of(30), None),
}


@pytest.mark.parametrize(("statement", "headings"), GONE.values(), ids=GONE)
def test_what_was_sealed_by_anybody_is_missed_and_put_back(
    filled: Store, statement: str, headings: set[str] | None
) -> None:
    before = list(filled.ledger.all()), filled.ledger.filed(())
    edit(filled, statement)

    assert looked(filled).headings == headings
    assert looked(filled).can_be_put_back
    assert filled.wholeness.put_back() is None
    assert (list(filled.ledger.all()), filled.ledger.filed(())) == before
    filled.check()


@pytest.mark.parametrize(
    "statement",
    [
        "DELETE FROM segment",
        "DELETE FROM share_segment WHERE seq = 1 AND tablet IN (SELECT tablet FROM former_tablet)",
    ],
)
def test_a_segment_that_was_sealed_here_is_missed_under_every_key(
    filled: Store, statement: str
) -> None:
    edit(filled, statement)

    assert looked(filled).segments
    assert looked(filled).headings == frozenset()


def test_a_segment_that_this_tablet_said_to_hold_is_missed(filled: Store) -> None:
    held = [row[0].name for row in filled.holdings.rows().values()]
    filled.holdings.acknowledge([it for it in held if it.tablet == BELIEVED.id])
    assert filled.wholeness.look_closely() is None

    edit(filled, f"DELETE FROM share_segment WHERE tablet = '{BELIEVED.id}'")

    assert looked(filled).shared == 1


def test_what_was_missing_is_here_again_once_the_share_gave_it_back(filled: Store) -> None:
    others = Stranger(100)
    sealed = others.seals(entry(3, {"heading": "B"}), entry(30))
    held = [row[0].name for row in filled.holdings.rows().values()]
    filled.holdings.acknowledge([it for it in held if it.tablet == BELIEVED.id])
    edit(filled, f"DELETE FROM share_segment WHERE tablet = '{BELIEVED.id}'")
    assert looked(filled).shared

    take(filled.holdings, sealed, others.identity)

    assert filled.wholeness.look() is None


def test_an_altered_entry_is_given_no_more(filled: Store) -> None:
    altered = entry_of(20)
    edit(filled, f"UPDATE entry SET kind = 'walk' WHERE {of(20)}")

    looked(filled)

    assert altered not in {it.revision for it in filled.ledger.of_kind("walk")}
    assert entry_of(1) in {it.revision for it in filled.ledger.of_kind("round")}
