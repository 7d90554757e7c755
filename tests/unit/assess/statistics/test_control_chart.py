"""A chart of tests made one after another points at what asks for a reason."""

from decimal import Decimal

from fieldapp.assess.statistics.control_chart import ControlChart, TooFewPoints, individuals_chart


def chart(*values: int) -> ControlChart:
    drawn = individuals_chart([Decimal(it) for it in values], Decimal("0.1"))
    assert isinstance(drawn, ControlChart)
    return drawn


def test_a_bolt_that_came_out_stands_outside_and_is_a_jump() -> None:
    """Ranges of 2, and 60 there and back: mean 11.2; 98.3 ± 29.7, and 36.5 between two."""
    drawn = chart(*[100, 102] * 6, 42, *[102, 100] * 6)

    assert drawn.outside == (12,)
    assert drawn.jumps == (12, 13)
    assert drawn.settled


def test_eight_in_a_row_on_one_side_are_a_run() -> None:
    drawn = chart(*[100, 103] * 4, *[90, 93] * 4)

    assert drawn.runs == (7, 15)


def test_seven_in_a_row_are_none() -> None:
    assert chart(*[100, 103] * 3, 100, *[90, 93] * 3, 90).runs == ()


def test_values_all_alike_are_all_within() -> None:
    drawn = chart(*[100] * 10)

    assert drawn.lower == drawn.upper == 100
    assert not (*drawn.outside, *drawn.runs)


def test_one_value_has_no_chart() -> None:
    assert isinstance(individuals_chart([Decimal(100)], Decimal("0.1")), TooFewPoints)
