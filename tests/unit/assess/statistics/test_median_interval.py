"""The middle of a few figures, and when nothing sure can be said of it."""

from decimal import Decimal

from fieldapp.assess.statistics.median_interval import middle

STEP, SURE = Decimal("0.1"), Decimal("0.95")


def test_five_figures_have_a_middle_and_no_interval() -> None:
    # ½⁵ on either side is 6.25 %, more than the 5 % that may be missed
    found = middle([Decimal(it) for it in (9, 1, 5, 3, 7)], SURE, STEP)

    assert (found.median, found.interval, found.figures) == (Decimal("5.0"), None, 5)


def test_one_wild_figure_moves_neither_end_far() -> None:
    calm = [Decimal(it) for it in range(10)]
    wild = middle([*calm[:-1], Decimal(9_999)], SURE, STEP)

    assert wild == middle(calm, SURE, STEP)
