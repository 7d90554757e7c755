"""Torque rules, plates, capacities and laps."""

from decimal import Decimal

import pytest

from fieldapp.assess.capacity import (
    bar_area_mm2,
    bolt_capacity,
    bonded_beyond_m,
    pattern_pressure_kpa,
    slab_pressure_kpa,
    slotted_tube_area_mm2,
    steel_kn,
    thread_stress_area_mm2,
)
from fieldapp.assess.laps import clear_opening_mm, lap_mm, openings_in
from fieldapp.assess.plate import depth_m, edge_gap_mm, tilt_deg
from fieldapp.assess.torque import (
    kilonewtons,
    newton_metres,
    tension_window_kn,
)
from tests.reference.record import reference


@reference("30 CFR 57.3203(f)(1): at least half of the lesser, not above it", "published")
def test_the_tension_window() -> None:
    assert tension_window_kn(yield_kn=160, anchorage_kn=120) == (60, 120)


@reference("NIST SP 811: 1 ft·lbf = 1.355 818 N·m", "published")
@pytest.mark.parametrize(("foot_pounds", "nm"), [(150, 203.4), (100, 135.6)])
def test_foot_pounds(foot_pounds: float, nm: float) -> None:
    assert newton_metres(foot_pounds) == pytest.approx(nm, abs=0.05)


@reference("NIST SP 811: 1 lbf = 4.448 222 N", "published")
@pytest.mark.parametrize(("pounds", "kn"), [(23_000, 102.3), (36_000, 160.136), (54_000, 240.204)])
def test_pounds_force(pounds: float, kn: float) -> None:
    assert kilonewtons(pounds) == pytest.approx(kn, abs=0.05)


@reference("Geometry: width · tan(tilt)", "closed form")
@pytest.mark.parametrize(
    ("plate", "tilt", "gap"),
    [(200, 5, 17.5), (200, 10, 35.3), (200, 15, 53.6), (200, 20, 72.8), (150, 10, 26.4)],
)
def test_the_gap_under_a_plate(plate: float, tilt: float, gap: float) -> None:
    assert edge_gap_mm(plate, tilt) == pytest.approx(gap, abs=0.06)
    assert tilt_deg(plate, gap) == pytest.approx(tilt, abs=0.02)


@reference("Geometry: L · cos(angle)", "closed form")
@pytest.mark.parametrize(("angle", "depth"), [(10, 2.364), (20, 2.255)])
def test_how_deep_a_slanted_bolt_reaches(angle: float, depth: float) -> None:
    assert depth_m(2.4, angle) == pytest.approx(depth, abs=5e-4)


@reference("ISO 898-1, nominal stress areas of coarse threads", "from memory")
@pytest.mark.parametrize(
    ("diameter", "pitch", "area"),
    [(16, 2, 157), (20, 2.5, 245), (22, 2.5, 303), (24, 3, 353), (27, 3, 459), (30, 3.5, 561)],
)
def test_thread_stress_areas(diameter: float, pitch: float, area: float) -> None:
    assert thread_stress_area_mm2(diameter, pitch) == pytest.approx(area, rel=0.003)


@reference("F = A·f", "closed form")
@pytest.mark.parametrize(
    ("diameter", "area", "at_500", "at_600"),
    [(16, 201.1, 100.5, 120.6), (18, 254.5, 127.2, 152.7), (20, 314.2, 157.1, 188.5),
     (22, 380.1, 190.1, 228.1), (24, 452.4, 226.2, 271.4), (25, 490.9, 245.4, 294.5),
     (5.6, 24.63, 12.3, 14.8)],
)  # fmt: skip
def test_bars(diameter: float, area: float, at_500: float, at_600: float) -> None:
    assert bar_area_mm2(diameter) == pytest.approx(area, abs=0.06)
    assert steel_kn(bar_area_mm2(diameter), 500) == pytest.approx(at_500, abs=0.06)
    assert steel_kn(bar_area_mm2(diameter), 600) == pytest.approx(at_600, abs=0.06)


@reference("(π·(D − t) − slot)·t", "closed form")
def test_a_slotted_tube() -> None:
    area = slotted_tube_area_mm2(47, 3.0, 13)

    assert area == pytest.approx(375.7, abs=0.05)
    assert steel_kn(area, 350) == pytest.approx(131.5, abs=0.05)


@reference("The thread of an M20 bar carries 78 % of the bar", "closed form")
def test_the_thread_governs() -> None:
    share = thread_stress_area_mm2(20, 2.5) / bar_area_mm2(20)

    assert share == pytest.approx(0.78, abs=0.005)


@reference("W = ρ·g·t·s², 1.5 m of 2700 kg/m³ on 1.5 × 1.5 m; bolt 180 kN", "closed form")
def test_a_slab_on_one_bolt() -> None:
    weight = slab_pressure_kpa(1.5, 2700) * 1.5 * 1.5

    assert weight == pytest.approx(89.4, abs=0.05)
    assert 180 / weight == pytest.approx(2.01, abs=0.005)


@reference("2.4 m friction bolts, 24.5 kN/m, 1.5 m loosened, 1.4 × 1.2 m", "closed form")
def test_a_perfect_pattern_that_does_not_carry() -> None:
    bond = 24.5 * bonded_beyond_m(2.4, 1.5, 0)
    capacity = bolt_capacity(130, bond, 100)
    safety = pattern_pressure_kpa(capacity.kn, 1.4, 1.2) / slab_pressure_kpa(1.5, 2700)

    assert capacity.governs == "bond"
    assert safety == pytest.approx(0.33, abs=0.005)


@reference("160 kN, 1.5 m of 2700 kg/m³, 1.68 m² and 2.21 m² a bolt", "closed form")
@pytest.mark.parametrize(("area", "safety"), [(1.68, 2.40), (2.21, 1.82)])
def test_load_alone_says_fine(area: float, safety: float) -> None:
    pressure = pattern_pressure_kpa(160, area, 1)

    assert pressure / slab_pressure_kpa(1.5, 2700) == pytest.approx(safety, abs=0.005)


@reference("Three openings at 100 mm are 300 mm", "closed form")
def test_a_lap_in_openings() -> None:
    assert lap_mm(3, Decimal(100)) == 300
    assert lap_mm(3, Decimal(100)) - lap_mm(2, Decimal(100)) == 100
    assert openings_in(Decimal(299), Decimal(100)) == 2


@reference("5.6 mm wire at 100 mm: pitch and clear opening 5.9 % apart", "closed form")
def test_pitch_is_not_the_clear_opening() -> None:
    clear = clear_opening_mm(Decimal(100), Decimal("5.6"))

    assert clear == Decimal("94.4")
    assert float(Decimal(100) / clear - 1) == pytest.approx(0.059, abs=0.0005)
