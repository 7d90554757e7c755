from decimal import Decimal

import pytest

from schemas.bodies.round import BoltSeen, ProfileSeen
from schemas.findings import Verdict
from tests.unit.assess.conforming import (
    conforming,
    counted,
    finding,
    missing,
    with_bolts,
    with_limit,
    with_round,
    with_row,
)


def test_a_full_round_is_accepted() -> None:
    found = finding(conforming(), "bolts_present")

    assert found.verdict is Verdict.ACCEPT
    assert found.how.startswith("27 demanded")


def test_a_missing_bolt_names_its_place() -> None:
    found = finding(with_bolts(conforming(), 2, missing(7)), "bolts_present")

    assert found.verdict is Verdict.REWORK
    assert found.fix == ("add a bolt, row 2, 2.5 m right of the crown",)
    assert (found.places[0].row, found.places[0].position) == (2, 7)
    assert found.places[0].zone == "right shoulder"


@pytest.mark.parametrize(
    ("state", "job"),
    [("broken", "replace the broken bolt"), ("blocked hole", "add a bolt beside the hole")],
)
def test_a_bolt_that_is_broken_or_was_never_put_in(state: str, job: str) -> None:
    bolt = BoltSeen.model_validate({"position": 1, "state": state})
    found = finding(with_bolts(conforming(), 1, bolt), "bolts_present")

    assert found.verdict is Verdict.REWORK
    assert found.fix[0].startswith(job)


def test_a_bolt_beside_a_hole_given_up_stands_for_its_position() -> None:
    hole = BoltSeen(position=5, state="blocked hole")
    beside = BoltSeen(s_m=Decimal("0.25"), method="tape", state="present", beside=True)
    bundle = with_bolts(conforming(), 2, hole)

    assert finding(bundle, "bolts_present").verdict is Verdict.REWORK
    assert finding(with_bolts(bundle, 2, beside), "bolts_present").verdict is Verdict.ACCEPT


def test_a_row_that_nobody_counted_is_not_looked_at() -> None:
    found = finding(with_row(conforming(), 3, counted=None), "bolts_present")

    assert (found.verdict, found.holds) == (Verdict.NOT_LOOKED_AT, Verdict.REWORK)


def test_a_count_below_what_is_demanded_is_rework_although_nobody_marked_where() -> None:
    found = finding(with_row(conforming(), 3, counted=counted(8)), "bolts_present")

    assert found.verdict is Verdict.REWORK
    assert found.places[0].position is None


def test_overbreak_demands_more_bolts_than_the_sheet() -> None:
    wide = ProfileSeen(width_m=Decimal("6.0"), rise_m=Decimal("2.6"), method="tape")
    found = finding(with_round(conforming(), profile=wide), "bolts_present")

    assert found.verdict is Verdict.REWORK
    assert "fewer than demanded" in found.places[0].words


def test_fix_this_shift_never_stands_for_a_missing_bolt() -> None:
    lenient = with_limit(conforming(), "bolts_present", breach=Verdict.FIX_THIS_SHIFT)

    assert finding(with_bolts(lenient, 2, missing(1)), "bolts_present").verdict is Verdict.REWORK
