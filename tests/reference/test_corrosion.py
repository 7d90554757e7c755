"""What rust leaves of bars and tubes."""

from decimal import Decimal

import pytest

from fieldapp.assess.capacity import bar_area_mm2, steel_kn
from fieldapp.assess.corrosion.residual import (
    left_after_mm,
    lost_um,
    share_left,
)
from tests.reference.record import reference


@reference("Area: (d/d₀)², rounded to four digits", "closed form")
@pytest.mark.parametrize(
    ("new", "left", "share"),
    [("5.6", "5.6", "1"), ("5.6", "5.0", "0.7972"), ("5.6", "4.5", "0.6457"),
     ("4.0", "3.0", "0.5625"), ("3.0", "2.5", "0.6944"), ("22", "20", "0.8264"),
     ("20", "14.142", "0.5000"), ("4.0", "3.8", "0.9025"), ("100", "90", "0.81"),
     ("22", "22.1", "1"), ("22", "0", "0")],
)  # fmt: skip
def test_what_is_left_of_a_bar(new: str, left: str, share: str) -> None:
    assert share_left("bar", Decimal(new), Decimal(left)) == Decimal(share)
    assert share_left("wire", Decimal(new), Decimal(left)) == Decimal(share)


@reference("0.1 mm a year per surface for 20 years on 22 mm: 127.2 kN at 500 MPa", "closed form")
def test_a_bar_after_twenty_years() -> None:
    left = left_after_mm("bar", Decimal(22), Decimal(100) * 20)

    assert left == 18
    assert share_left("bar", Decimal(22), left) == Decimal("0.6694")
    assert steel_kn(bar_area_mm2(float(left)), 500) == pytest.approx(127.2, abs=0.05)


@reference("A wall of 3.0 mm, 0.05 mm a year, 20 years: both sides, one side", "closed form")
@pytest.mark.parametrize(("surfaces", "share"), [(2, "0.3333"), (1, "0.6667")])
def test_a_tube_after_twenty_years(surfaces: int, share: str) -> None:
    left = left_after_mm("tube", Decimal(3), Decimal(50) * 20, surfaces)

    assert share_left("tube", Decimal(3), left) == Decimal(share)
    assert lost_um("tube", Decimal(3), left, surfaces) == 1000


@reference(
    "47 × 3 mm tube, 0.5 mm lost each side: 66.7 %; (d/d₀)² would say 95.8 %", "closed form"
)
def test_a_tube_is_not_judged_by_its_diameter() -> None:
    assert share_left("tube", Decimal(3), Decimal(2)) == Decimal("0.6667")
    assert share_left("bar", Decimal(47), Decimal(46)) == Decimal("0.9579")
