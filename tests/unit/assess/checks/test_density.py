from decimal import Decimal

from schemas.findings import Verdict
from tests.unit.assess.conforming import conforming, finding, length, with_limit, with_row


def test_density_over_the_rock_back_to_the_joint() -> None:
    """27 bolts on 9.916 m × 2.7 m = 1.008 per m²."""
    found = finding(conforming(), "density")

    assert (found.verdict, found.measured) == (Verdict.ACCEPT, "1.008")


def test_rows_far_apart_thin_it_out() -> None:
    bundle = with_limit(conforming(), "density", at_least_per_m2=Decimal("0.95"))
    found = finding(with_row(bundle, 2, ahead_of_row_before=length("1.20")), "density")

    assert (found.verdict, found.measured) == (Verdict.REWORK, "0.908")


def test_a_row_not_looked_at_leaves_it_open_and_unsaid() -> None:
    found = finding(with_row(conforming(), 2, counted=None), "density")

    assert found.verdict is Verdict.NOT_LOOKED_AT
    assert found.measured is None


def test_rows_that_stand_nowhere_have_no_density() -> None:
    bundle = conforming()
    for number in (1, 2, 3):
        bundle = with_row(bundle, number, ahead_of_row_before=length("0"))

    assert finding(bundle, "density").measured is None
