from decimal import Decimal

from schemas.bodies.round import ProfileSeen
from schemas.findings import Verdict
from tests.unit.assess.conforming import conforming, finding, length, with_round, with_row


def test_rows_as_the_standard_puts_them_are_accepted() -> None:
    assert finding(conforming(), "row_spacing").verdict is Verdict.ACCEPT


def test_a_row_too_far_ahead_wants_a_row_between() -> None:
    bundle = with_row(conforming(), 2, ahead_of_row_before=length("1.20"))
    found = finding(bundle, "row_spacing")

    assert (found.verdict, found.measured) == (Verdict.REWORK, "1.200")
    assert found.fix == ("add a row between row 1 and row 2",)


def test_a_paced_distance_is_too_unsure_to_decide() -> None:
    bundle = with_row(conforming(), 2, ahead_of_row_before=length("0.90", "paced"))

    assert finding(bundle, "row_spacing").verdict is Verdict.MEASURE_AGAIN


def test_a_row_that_nobody_measured_is_not_looked_at() -> None:
    found = finding(with_row(conforming(), 1, ahead_of_row_before=None), "row_spacing")

    assert found.verdict is Verdict.NOT_LOOKED_AT


def test_where_the_profile_changes_the_distance_is_in_three_dimensions() -> None:
    """The rise grows by 0.45 m: √(0.9² + 0.45²) = 1.006 m, over the limit of 1.0 m."""
    higher = ProfileSeen(width_m=Decimal("5.0"), rise_m=Decimal("2.45"), method="laser")
    found = finding(with_round(conforming(), profile=higher), "row_spacing")

    assert Decimal(found.measured or 0) >= Decimal("1.006")
