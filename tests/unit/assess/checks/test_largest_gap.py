from decimal import Decimal

from schemas.bodies.round import BolterCheck, BoltSeen, FaceReading, ProfileSeen
from schemas.bundle import Bundle
from schemas.findings import Finding, Verdict
from tests.unit.assess.conforming import (
    conforming,
    finding,
    length,
    loose,
    missing,
    with_bolts,
    with_limit,
    with_round,
    with_row,
)


def gap(bundle: Bundle) -> Finding:
    return finding(bundle, "largest_gap")


def test_an_intact_pattern_has_the_gap_of_its_closed_form() -> None:
    """Square: √(1.2395² + 0.9²) = 1.532; the last row is nearer to the face than to its row."""
    found = gap(conforming())

    assert (found.verdict, found.measured) == (Verdict.ACCEPT, "1.532")
    assert found.limit == "at most 1.73"
    assert "positions assumed" in found.basis


def test_an_intact_staggered_pattern() -> None:
    """Staggered, 7 bolts on the line of 8.333 m: b + s²/(4b) = 1.2 + 1.389²/4.8 = 1.602."""
    assert gap(conforming("O2")).measured == "1.602"


def test_a_missing_bolt_is_rework_and_its_job_is_that_bolt() -> None:
    """(s² + b²)/s = (1.2395² + 0.9²)/1.2395 = 1.893."""
    found = gap(with_bolts(conforming(), 2, missing(4)))

    assert (found.verdict, found.measured) == (Verdict.REWORK, "1.893")
    assert found.fix == ("add a bolt, row 2, 1.2 m left of the crown",)


def test_a_loose_plate_counts_against_the_first_limit_only() -> None:
    """A grouted bar stays anchored without its plate: rework, whatever the other limit."""
    bundle = with_bolts(conforming(), 2, loose(4))
    strict = with_limit(bundle, "largest_gap", no_entry_above_m=Decimal("1.80"))

    assert gap(strict).verdict is Verdict.REWORK
    assert gap(strict).fix == ("seat the plate, row 2, 1.2 m left of the crown",)


def test_a_point_anchored_bolt_with_a_loose_plate_holds_nothing() -> None:
    bundle = with_bolts(conforming("O2"), 2, loose(4))
    strict = with_limit(bundle, "largest_gap", no_entry_above_m=Decimal("2.00"))

    assert gap(strict).verdict is Verdict.NO_ENTRY


def test_a_face_that_was_not_read_leaves_it_not_looked_at() -> None:
    found = gap(with_round(conforming(), face_readings=()))

    assert (found.verdict, found.holds) == (Verdict.NOT_LOOKED_AT, Verdict.NO_ENTRY)
    assert found.measured is None


def test_what_is_wrong_already_shows_although_the_rest_is_not_looked_at() -> None:
    bundle = with_row(with_bolts(conforming(), 2, missing(4)), 3, counted=None)

    assert gap(bundle).verdict is Verdict.REWORK
    assert gap(bundle).measured == "1.893"
    assert gap(bundle).holds is Verdict.NO_ENTRY


def test_rows_too_far_apart_widen_it() -> None:
    found = gap(with_row(conforming(), 2, ahead_of_row_before=length("1.40")))

    assert found.verdict is Verdict.REWORK
    assert found.fix[0].startswith("add a bolt in the middle of the gap, at ")


def test_assumed_positions_straddle_where_measured_ones_decide() -> None:
    near = with_limit(conforming(), "largest_gap", at_most_m=Decimal("1.56"))
    placed = near
    for row, s_m in ((row, n * Decimal("1.24")) for row in (1, 2, 3) for n in range(-4, 5)):
        bolt = BoltSeen(s_m=s_m, method="laser", state="present")
        placed = with_bolts(placed, row, bolt)

    assert gap(near).verdict is Verdict.MEASURE_AGAIN
    assert gap(near).holds is Verdict.REWORK
    assert gap(near).fix[0].startswith("measure again by a better method")
    assert Decimal(gap(placed).uncertainty or 0) < Decimal(gap(near).uncertainty or 0)


def test_a_step_in_the_profile_makes_the_ground_at_the_joint_longer() -> None:
    higher = ProfileSeen(width_m=Decimal("5.0"), rise_m=Decimal("2.45"), method="laser")
    stepped = gap(with_round(conforming(), profile=higher))
    before = gap(conforming())

    assert Decimal(stepped.measured or 0) > Decimal(before.measured or 0)


def test_an_extra_bolt_narrows_a_gap() -> None:
    bundle = with_bolts(conforming(), 2, missing(4))
    extra = BoltSeen(s_m=Decimal("-1.85"), method="tape", state="present")

    helped = gap(with_bolts(bundle, 2, extra))

    assert Decimal(helped.measured or 0) < Decimal(gap(bundle).measured or 0)


def test_a_face_that_touches_the_last_row_leaves_a_gap_of_nothing_there() -> None:
    """No bolt counts, and the face was read in the middle alone: it narrows to the last row."""
    face = FaceReading(where="middle", reading=length("0.57"))
    narrow = ProfileSeen(width_m=Decimal(3), rise_m=Decimal(0), method="tape")
    bundle = conforming(
        rows=1,
        old_rows=(),
        profile=narrow,
        bolter=BolterCheck(bolt_type="PB24"),
        face_readings=(face,),
    )

    assert gap(bundle).verdict is Verdict.NOT_LOOKED_AT
