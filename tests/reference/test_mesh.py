"""Sheets of mesh: unions, laps, strips, and what a panel or a wire carries."""

from decimal import Decimal

import pytest
import shapely

from fieldapp.assess.capacity import bar_area_mm2, steel_kn
from fieldapp.assess.laps import Sheet, lap_mm, laps_met_by_rows
from fieldapp.assess.mesh.bays import bay_load_kn
from fieldapp.assess.mesh.placed import Box, rectangle
from tests.reference.record import reference
from tests.unit.assess.conforming import STANDARD


def box(x1: float, y1: float, x2: float, y2: float) -> Box:
    return Box(*(Decimal(str(it)) for it in (x1, x2, y1, y2)))


def union_m2(*boxes: Box) -> float:
    return float(shapely.union_all([rectangle(it) for it in boxes]).area)


@reference('ACM ICPC Mid-Central European Regional 2000, "Atlantis", its sample', "published")
def test_the_union_of_two_rectangles() -> None:
    assert union_m2(box(10, 10, 20, 20), box(15, 15, 25, 25.5)) == pytest.approx(180.0)


@reference('NAIPC 2017, "Unreal Estate", its first sample', "published")
def test_the_union_of_rectangles_with_fractions() -> None:
    assert union_m2(box(0, 0, 10, 20), box(10, 0, 20, 20)) == pytest.approx(400.0)


@reference("Inclusion and exclusion of three rectangles", "closed form")
def test_the_union_of_three_rectangles() -> None:
    """4 + 4 + 4 less three common squares of 1, less or plus the one in all three."""
    three = box(0, 0, 2, 2), box(1, 0, 3, 2), box(0, 1, 2, 3)

    assert union_m2(*three) == pytest.approx(4 + 4 + 4 - 2 - 2 - 1 + 1)


@reference("n·w − (n − 1)·lap side by side", "closed form")
@pytest.mark.parametrize(
    ("sheets", "size", "lap", "covered"),
    [(3, ("2.4", "3.0"), "0.3", "6.6"), (4, ("2.4", "3.3"), "0.2", "9.0")],
)
def test_sheets_side_by_side(sheets: int, size: tuple[str, str], lap: str, covered: str) -> None:
    width, length, advance = float(size[0]), float(size[1]), float(size[0]) - float(lap)
    row = [box(n * advance, 0, n * advance + width, length) for n in range(sheets)]

    assert union_m2(*row) == pytest.approx(float(covered) * length)


@reference("M1: three openings of 100 mm; two are short by one", "closed form")
def test_a_lap_short_by_one_opening() -> None:
    assert lap_mm(3, Decimal(100)) - lap_mm(2, Decimal(100)) == 100


@reference("M3: 3.0 × 2.4 m lapped 0.3 m both ways leaves 5.67 of 7.20 m²", "closed form")
def test_what_a_sheet_really_covers() -> None:
    along, across = Sheet(Decimal("3.0"), Decimal("0.3")), Sheet(Decimal("2.4"), Decimal("0.3"))
    effective = along.advance_m * across.advance_m

    assert effective == Decimal("5.67")
    assert effective / (along.along_m * across.along_m) == Decimal("0.7875")


@reference("2.4 m sheets lapped 0.3 m advance 2.1 m: of 9 laps rows meet 2 or 9", "closed form")
@pytest.mark.parametrize(("rows", "met"), [("1.2", 2), ("1.05", 9)])
def test_rows_and_laps(rows: str, met: int) -> None:
    sheet = Sheet(Decimal("2.4"), Decimal("0.3"))
    laps = laps_met_by_rows(sheet, Decimal(rows), 9, Decimal("0.15"), Decimal("0.1"))

    assert len(laps) == met


@reference("1.4 × 1.2 m of 0.5 m of rock at 27 kN/m³", "closed form")
def test_what_a_bay_may_hold() -> None:
    assert bay_load_kn(Decimal("1.68"), Decimal("0.5"), Decimal(27)) == Decimal("22.68")


@reference("C8: a wire of 5.6 mm at 500 N/mm²; wires of 3 and 4 mm at 1,770 N/mm²", "closed form")
@pytest.mark.parametrize(
    ("wire", "steel", "area", "force"),
    [(5.6, 500, 24.63, 12.3), (3.0, 1_770, 7.07, 12.5), (4.0, 1_770, 12.57, 22.2)],
)
def test_what_one_wire_carries(wire: float, steel: float, area: float, force: float) -> None:
    """The sum of its wires is no panel load: plates let them slip long before."""
    assert bar_area_mm2(wire) == pytest.approx(area, abs=0.005)
    assert steel_kn(bar_area_mm2(wire), steel) == pytest.approx(force, abs=0.05)


@reference(
    "Pulled by a plate of 300 × 300 mm: 5.6 mm welded at 100 mm near 40 kN, 4 mm high-tensile "
    "chain link near 110 kN",
    "common practice, no source",
)
def test_the_panel_loads_of_the_worked_example() -> None:
    stated = {
        known.code: (known.mesh.panel_kn, known.mesh.panel_because)
        for known in STANDARD.classes
        if known.mesh is not None
    }

    assert stated == {
        "D1": (Decimal(40), "common practice, no source"),
        "O2": (Decimal(110), "common practice, no source"),
    }


@reference("40 kN is what 3.25 wires of 5.6 mm carry: some three meet a plate", "closed form")
def test_a_panel_load_is_of_the_size_of_the_wires_at_its_plate() -> None:
    assert 40 / steel_kn(bar_area_mm2(5.6), 500) == pytest.approx(3.25, abs=0.01)
