"""What rust leaves, how fast it goes in air, and how long zinc lasts."""

from decimal import Decimal

import pytest

from fieldapp.assess.capacity import bar_area_mm2, steel_kn
from fieldapp.assess.corrosion.atmosphere import (
    Metal,
    attack_um,
    corrosivity,
    years_to_lose,
    zinc_um,
)
from fieldapp.assess.corrosion.residual import (
    left_after_mm,
    lost_um,
    share_doubt,
    share_left,
    thinnest_mm,
)
from tests.reference.record import reference

YEARS = (1, 2, 5, 10, 15, 20)


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


@reference("Plastic moment of a rectangle, b·t²/4", "closed form")
def test_a_plate_bends() -> None:
    assert share_left("plate", Decimal(8), Decimal(6)) == Decimal("0.5625")


@reference("d₀·√share for 90, 80, 75, 50 % of 5.6 mm wire", "closed form")
def test_the_diameter_at_which_so_much_is_left() -> None:
    shares = ("0.9", "0.8", "0.75", "0.5")
    thin = [float(thinnest_mm("wire", Decimal("5.6"), Decimal(it))) for it in shares]

    assert thin == pytest.approx([5.3126, 5.0088, 4.8497, 3.9598], abs=1e-4)
    assert thinnest_mm("tube", Decimal(3), Decimal("0.8")) == Decimal("2.4")


@reference("JCGM 100:2008, equation (10): 2·d/d₀²·u", "published")
def test_how_sure_a_share_is() -> None:
    """20 of 22 mm, u 0.2 mm: 2·20/484·0.2; a wall of 2 of 3 mm, u 0.1 mm: 0.1/3."""
    assert share_doubt("bar", Decimal(22), Decimal(20), Decimal("0.2")) == Decimal("0.0165")
    assert share_doubt("tube", Decimal(3), Decimal(2), Decimal("0.1")) == Decimal("0.0333")


@reference("ISO 9223:2012, table 2, steel", "published")
@pytest.mark.parametrize(
    ("rate", "category"),
    [(0.5, "C1"), (1.3, "C1"), (1.31, "C2"), (25, "C2"), (25.1, "C3"), (50, "C3"), (79.9, "C4"),
     (80, "C4"), (200, "C5"), (200.1, "CX"), (700, "CX"), (701, None)],
)  # fmt: skip
def test_categories_of_steel(rate: float, category: str | None) -> None:
    assert corrosivity("steel", rate) == category


@reference("ISO 9223:2012, table 2, zinc", "from memory")
@pytest.mark.parametrize(
    ("rate", "category"),
    [(0.05, "C1"), (0.1, "C1"), (0.11, "C2"), (0.7, "C2"), (0.71, "C3"), (2.1, "C3"),
     (2.11, "C4"), (4.2, "C4"), (8.4, "C5"), (8.5, "CX"), (25, "CX")],
)  # fmt: skip
def test_categories_of_zinc(rate: float, category: str) -> None:
    assert corrosivity("zinc", rate) == category


@reference("ISO 9224:2012, table 3: attack in µm after 1, 2, 5, 10, 15, 20 years", "from memory")
@pytest.mark.parametrize(
    ("metal", "first_year", "after"),
    [("steel", 1.3, (1.3, 1.9, 3.0, 4.3, 5.4, 6.2)), ("steel", 25, (25, 36, 58, 83, 103, 120)),
     ("steel", 50, (50, 72, 116, 167, 206, 240)), ("steel", 80, (80, 115, 186, 267, 330, 383)),
     ("steel", 200, (200, 287, 464, 667, 824, 958)),
     ("zinc", 0.7, (0.7, 1.2, 2.6, 4.6, 6.3, 8.0)), ("zinc", 2.1, (2.1, 3.7, 7.8, 13.7, 19, 24)),
     ("zinc", 4.2, (4.2, 7.4, 15.5, 27.3, 38, 48)),
     ("zinc", 8.4, (8.4, 14.8, 31.1, 54.6, 75.9, 95.9))],
)  # fmt: skip
def test_attack_over_the_years(metal: Metal, first_year: float, after: tuple[float, ...]) -> None:
    abs_um = 0.6 if metal == "steel" else 0.06

    assert [attack_um(metal, first_year, it) for it in YEARS] == pytest.approx(after, abs=abs_um)


@reference("ISO 9224:2012, beyond 20 years: r·(20ᵇ + b·20ᵇ⁻¹·(t − 20))", "from memory")
@pytest.mark.parametrize(
    ("metal", "first_year", "after_30"), [("steel", 50, 302.201), ("zinc", 2.1, 33.7362)]
)
def test_attack_beyond_twenty_years(metal: Metal, first_year: float, after_30: float) -> None:
    assert attack_um(metal, first_year, 30) == pytest.approx(after_30, abs=1e-3)


@reference("ISO 9224:2012, solved for the time a coating of so many g/m² lasts", "closed form")
@pytest.mark.parametrize(
    ("grams", "first_year", "years"),
    [(265, 2.1, 33.4652), (265, 8.4, 6.2185), (275, 0.7, 113.9053)],
)
def test_how_long_zinc_lasts(grams: float, first_year: float, years: float) -> None:
    assert years_to_lose("zinc", first_year, zinc_um(grams)) == pytest.approx(years, abs=2e-3)
    assert years_to_lose("zinc", 0, zinc_um(grams)) is None


@reference("Mass over 7.14 g/cm³", "closed form")
@pytest.mark.parametrize(("grams", "um"), [(50, 7.003), (275, 38.515), (610, 85.434)])
def test_the_thickness_of_zinc(grams: float, um: float) -> None:
    assert zinc_um(grams) == pytest.approx(um, abs=1e-3)
