"""Bolts that were marked as none can be."""

from decimal import Decimal

from schemas.bodies.round import BoltSeen, SpotCheck
from schemas.findings import Verdict
from tests.unit.assess.conforming import conforming, missing, with_bolts, with_row
from tests.unit.assess.contradictions.contradicted import contradicted, placed, the_one


def test_a_bolt_that_the_row_does_not_have() -> None:
    assert the_one(with_row(conforming(), 2, bolts=(missing(12),))) == (
        "bolts_present",
        "row 2, bolt 12: it has 9",
        Verdict.NOT_LOOKED_AT,
    )


def test_a_drawn_bolt_that_the_row_does_not_have() -> None:
    spot = SpotCheck(position=12, plate_gap="tight")

    assert the_one(with_row(conforming(), 2, spot_checks=(spot,)))[1] == "row 2, bolt 12: it has 9"


def test_a_bolt_that_is_missing_and_seated() -> None:
    seated = BoltSeen(position=4, state="present", plate="seated")
    bundle = with_row(conforming(), 2, bolts=(missing(4), seated))

    assert the_one(bundle)[1] == "row 2, bolt 4: marked twice"


def test_two_bolts_at_one_place() -> None:
    bundle = with_bolts(conforming(), 2, placed(4, "-1.24"), placed(5, "-1.20"))

    assert "row 2, bolt 4 and bolt 5 stand at one place or crossed" in [
        place.words for it in contradicted(bundle) for place in it.places
    ]


def test_two_bolts_crossed() -> None:
    bundle = with_bolts(conforming(), 2, placed(4, "0.00"), placed(5, "-1.24"))

    assert "row 2, bolt 4 and bolt 5 stand at one place or crossed" in [
        place.words for it in contradicted(bundle) for place in it.places
    ]


def test_an_extra_bolt_where_there_is_one_already() -> None:
    seated = BoltSeen(position=5, state="present", plate="seated")
    bundle = with_bolts(conforming(), 2, seated, placed(None, "0.05"))

    assert the_one(bundle)[1] == "row 2, the extra bolt at 0.05 m stands where another bolt does"


def test_a_bolt_below_the_floor() -> None:
    bundle = with_bolts(conforming(), 2, placed(None, "40.00"))

    assert the_one(bundle)[1] == "row 2, a bolt 40.00 m from the crown: below the floor"


def test_an_angle_over_the_limit_and_within_it() -> None:
    bolt = BoltSeen(
        position=4, state="present", plate="seated", angle_over_limit=True, angle_deg=Decimal(5)
    )

    assert the_one(with_bolts(conforming(), 2, bolt))[1] == (
        "row 2, bolt 4: angle over the limit, and 5° within it"
    )
