"""Torque rules, plates, capacities and laps."""

from decimal import Decimal

import pytest

from fieldapp.assess.capacity import (
    bar_area_mm2,
    bolt_capacity,
    bonded_beyond_m,
    pattern_pressure_kpa,
    slab_pressure_kpa,
    thread_stress_area_mm2,
)
from fieldapp.assess.laps import clear_opening_mm, lap_mm
from tests.reference.record import reference


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


@reference("5.6 mm wire at 100 mm: pitch and clear opening 5.9 % apart", "closed form")
def test_pitch_is_not_the_clear_opening() -> None:
    clear = clear_opening_mm(Decimal(100), Decimal("5.6"))

    assert clear == Decimal("94.4")
    assert float(Decimal(100) / clear - 1) == pytest.approx(0.059, abs=0.0005)
