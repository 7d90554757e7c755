"""Damage and repairs end entry at once, by facts: nobody has to state or lift a notice."""

from decimal import Decimal
from typing import Any

import pytest

from fieldapp.assess.damage import left_of
from fieldapp.assess.entry.damage import damage_fact, repair_fact
from fieldapp.assess.entry.facts import HeadingFacts
from fieldapp.assess.entry.state import EntryState, entry_state
from fieldapp.report.words.entry import entry_said
from tests.damages import SEEN, STANDARD, ranked, repair, seen

LAST_ROW, FACE = Decimal("1389.4"), Decimal("1390.2")


def state(*found: object, repairs: tuple[Any, ...] = ()) -> EntryState:
    facts = HeadingFacts(
        last_row_m=LAST_ROW,
        face_m=FACE,
        fired_from_m=FACE,
        face_allowance_m=Decimal(1),
        two_rows_m=Decimal("1.8"),
        damages=tuple(it for it in found if it is not None),  # type: ignore[misc]
        repairs=tuple(repair_fact(f"r{n}", it) for n, it in enumerate(repairs)),
    )
    return entry_state(facts, SEEN)


def fact(*, outcome: str | None = None, **said: Any) -> object:
    """Give what the damage holds, after a repair that came to this."""
    one = seen(**said)
    left = left_of([one], "seen-0", [repair(outcome=outcome)] if outcome else [])
    return damage_fact("seen-0", left, ranked(one), STANDARD.rehab)


def test_damage_of_the_most_urgent_priority_lets_nobody_past_it() -> None:
    entry = state(fact(severity="S5"))

    assert (entry.line_m, entry.state) == (Decimal("1350.4"), "no entry, barrier not yet up")
    assert entry.because[0] == "no entry: plate gone at 1350.4 m, right shoulder, P1"


def test_ground_inbye_of_it_is_cut_off() -> None:
    assert state(fact(severity="S5")).cut_off


def test_damage_that_ends_foot_traffic_restricts_the_way_in() -> None:
    entry = state(fact())

    assert (entry.line_m, entry.outbye) == (LAST_ROW, "restricted")
    assert "restricted: plate gone at 1350.4 m, right shoulder, P2" in entry.because


def test_its_reason_is_said_once_behind_the_state() -> None:
    said = entry_said(state(fact()), "metres")

    assert said.outbye.endswith("restricted: plate gone at 1350.4 m, right shoulder, P2")


def test_a_hole_says_until_when_nobody_walks_beneath() -> None:
    entry = state(fact(kind="torn mesh", severity="S1", extent={"openings": 4}))

    assert any("nobody on foot beneath until patched" in it for it in entry.because)


def test_of_two_holes_at_one_spot_the_graver_is_named_and_how_many_there_are() -> None:
    small, large, far = (
        fact(kind="torn mesh", severity="S1", chainage_m=at_m, extent={"openings": openings})
        for at_m, openings in (("1350.4", 2), ("1350.6", 6), ("1352.0", 9))
    )
    entry = state(far, small, large)
    first, second, third = entry.because[-3:]

    assert first.startswith("restricted: torn mesh at 1350.6 m, right shoulder")
    assert "hole of 6 openings" in first
    assert first.endswith("; 1 more there")
    assert "hole of 2 openings" in second
    assert "hole of 9 openings" in third, "it lies farther inbye"


def test_damage_that_leaves_entry_open_changes_nothing() -> None:
    assert fact(severity="S1") is None


def test_a_patch_that_was_verified_lets_go_as_the_standard_says() -> None:
    """S-2, 10.6: open beneath a patch."""
    assert fact(severity="S5", outcome="patched") is None


def test_without_a_rule_for_patches_a_patch_lets_nothing_go() -> None:
    one = seen()
    left = left_of([one], "seen-0", [repair(outcome="patched")])
    kept = damage_fact("seen-0", left, ranked(one), None)

    assert kept is not None
    assert kept.holds == "restricted"


def test_support_that_was_restored_holds_nothing() -> None:
    assert fact(severity="S5", outcome="restored") is None


@pytest.mark.parametrize(
    ("how_far", "words"),
    [("in hand", "in hand"), ("done", "done, not yet verified"), ("refused", "refused")],
)
def test_a_repair_is_barricaded_from_its_start_until_it_is_verified(
    how_far: str, words: str
) -> None:
    entry = state(repairs=(repair(state=how_far, crew="B crew"),))

    assert (entry.line_m, entry.state) == (Decimal(1349), "barricaded")
    assert entry.because[0] == f"barricaded: repair {words}, 1349.0 to 1353.0 m by B crew"


def test_entry_ends_at_the_barrier_of_a_repair_not_where_the_work_begins() -> None:
    barricade = {"who": "B crew", "where": "chain and sign", "at_m": "1344"}
    entry = state(repairs=(repair(state="in hand", barricade=barricade),))

    assert (entry.line_m, entry.state) == (Decimal(1344), "barricaded")


@pytest.mark.parametrize("how_far", ["planned", "verified"])
def test_a_repair_that_is_planned_or_verified_holds_nothing_by_itself(how_far: str) -> None:
    assert state(repairs=(repair(state=how_far),)).line_m == LAST_ROW


def test_a_repair_that_was_reopened_lets_nobody_past_it() -> None:
    entry = state(repairs=(repair(state="reopened"),))

    assert entry.state == "no entry, barrier not yet up"


def test_damage_typed_beyond_the_face_counts_at_the_face() -> None:
    assert state(fact(severity="S5", chainage_m="13504")).state == "no entry, barrier not yet up"
