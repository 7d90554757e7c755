from decimal import Decimal
from typing import Any

from schemas.bodies.round import BoltSeen, SpacingSeen
from schemas.findings import Finding, Verdict
from tests.unit.assess.conforming import conforming, finding, length, with_bolts, with_row


def taped(value: str, **more: Any) -> Finding:
    spacing = SpacingSeen(from_position=3, to_position=4, reading=length(value, **more))
    return finding(with_row(conforming(), 2, spacings=(spacing,)), "bolt_spacing")


def test_a_spacing_within_its_guard_band_is_accepted() -> None:
    assert taped("1.38").verdict is Verdict.ACCEPT


def test_a_spacing_in_the_guard_band_is_to_be_measured_again_once() -> None:
    assert taped("1.39").verdict is Verdict.MEASURE_AGAIN
    assert taped("1.39", again=True).verdict is Verdict.REWORK


def test_a_spacing_too_wide_is_rework_with_its_place() -> None:
    found = taped("1.45")

    assert found.verdict is Verdict.REWORK
    assert found.places[0].words == "row 2, bolt 3 to 4"
    assert found.fix == ("add a bolt between bolts 3 and 4 of row 2",)


def test_a_straight_tape_reads_less_than_the_rock() -> None:
    """Chord 1.36 m on the arch of radius 2.5625 m: 2r·asin(c/2r) = 1.376 m along the rock."""
    assert taped("1.36", straight=True).measured == "1.376"


def test_a_straight_tape_s_own_reading_stands_with_the_place() -> None:
    """Who taped 1.45 m finds 1.45 m again, beside the distance along the rock."""
    found = taped("1.45", straight=True)

    assert found.measured == "1.470"
    assert found.places[0].words == "row 2, bolt 3 to 4, 1.450 m taped straight"


def test_a_row_without_any_reading_is_not_looked_at() -> None:
    found = finding(with_row(conforming(), 2, spacings=()), "bolt_spacing")

    assert found.verdict is Verdict.NOT_LOOKED_AT
    assert [place.words for place in found.places] == ["a spacing of row 2"]


def test_the_latest_reading_of_a_pair_stands() -> None:
    first = SpacingSeen(from_position=3, to_position=4, reading=length("1.60"))
    later = SpacingSeen(from_position=4, to_position=3, reading=length("1.30"))

    assert (
        finding(with_row(conforming(), 2, spacings=(first, later)), "bolt_spacing").verdict
        is Verdict.ACCEPT
    )


def test_bolts_whose_places_were_measured_have_their_spacing_too() -> None:
    left = BoltSeen(position=4, s_m=Decimal("-1.30"), method="laser", state="present")
    right = BoltSeen(position=5, s_m=Decimal("0.25"), method="laser", state="present")
    found = finding(with_bolts(conforming(), 2, left, right), "bolt_spacing")

    assert (found.verdict, found.measured) == (Verdict.REWORK, "1.550")
