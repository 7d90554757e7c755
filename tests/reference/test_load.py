"""Tributary areas, pressures and energies, beside published rules and closed forms."""

import numpy as np
import pytest
import shapely

from fieldapp.assess.capacity import slab_pressure_kpa
from fieldapp.assess.load.barton import (
    bolt_length_m,
    equivalent_span_m,
    pressure_1974_kpa,
    pressure_simple_kpa,
    q_value,
    unsupported_span_m,
    wall_q,
)
from fieldapp.assess.load.em_1110 import greatest_spacing_m, least_length_m, least_pressure_kpa
from fieldapp.assess.load.energy import fallen_kj_per_m2, thrown_kj_per_m2
from fieldapp.assess.load.tributary import tributary
from tests.reference.record import reference

FOOT = 0.3048


def square(spacing: float, count: int) -> list[tuple[float, float]]:
    return [(i * spacing, j * spacing) for i in range(count) for j in range(count)]


@reference("Voronoi cells of a square pattern: s², half on the edge, a quarter at the corner",
           "closed form")  # fmt: skip
def test_the_ground_of_a_square_pattern() -> None:
    ground = shapely.box(0, 0, 3.6, 3.6)
    areas = tributary(np.array(square(1.2, 4)), ground).areas_m2(ground).reshape(4, 4)

    assert areas[1:3, 1:3] == pytest.approx(np.full((2, 2), 1.44), abs=1e-9)
    assert areas[0, 1:3] == pytest.approx(np.full(2, 0.72), abs=1e-9)
    assert areas[0, 0] == pytest.approx(0.36, abs=1e-9)
    assert areas.sum() == pytest.approx(12.96, abs=1e-9)


@reference("Voronoi cells of a dice-five pattern: half a cell each, as 1.0607 m square",
           "closed form")  # fmt: skip
def test_the_ground_of_a_staggered_pattern() -> None:
    middles = [(x + 0.75, y + 0.75) for x, y in square(1.5, 3)]
    ground = shapely.box(0, 0, 4.5, 4.5)
    areas = tributary(np.array(square(1.5, 4) + middles), ground).areas_m2(ground)

    assert areas[16:] == pytest.approx(np.full(9, 1.125), abs=1e-9)
    assert areas[5] == pytest.approx(1.125, abs=1e-9)
    assert areas.sum() == pytest.approx(20.25, abs=1e-9)


@reference("Bolts 1.4 m apart, rows 1.2 m: one missing raises 1.68 to 2.21 m² at most",
           "closed form")  # fmt: skip
def test_the_ground_beside_a_missing_bolt() -> None:
    sites = [(i * 1.2, j * 1.4) for i in range(7) for j in range(7)]
    ground = shapely.box(-0.6, -0.7, 7.8, 9.1)
    whole = tributary(np.array(sites), ground).areas_m2(ground)
    less = [site for site in sites if site != (3 * 1.2, 3 * 1.4)]

    assert whole == pytest.approx(np.full(49, 1.68), abs=1e-9)
    assert tributary(np.array(less), ground).areas_m2(ground).max() == pytest.approx(
        2.21, abs=5e-3
    )


@reference("Barton, Lien and Lunde 1974: crusher chamber in Hoek, Practical Rock Engineering",
           "from memory")  # fmt: skip
def test_the_crusher_chamber() -> None:
    q = q_value(90, 4, 3, 1, 1, 15)

    assert q == pytest.approx(4.5, abs=1e-9)
    assert equivalent_span_m(15, 1.6) == pytest.approx(9.4, abs=0.05)
    assert bolt_length_m(15, 1.6) == pytest.approx(3.40625, abs=1e-5)
    assert unsupported_span_m(q, 1.6) == pytest.approx(5.840298, abs=1e-4)
    assert pressure_1974_kpa(q, 4, 3) == pytest.approx(26.4, abs=0.05)
    assert pressure_simple_kpa(q, 3) == pytest.approx(40.4, abs=0.05)


@reference("Barton, Lien and Lunde 1974, with Jn; RQD below 10 counts as 10", "from memory")
@pytest.mark.parametrize(
    ("ratings", "q", "kpa"),
    [((75, 9, 1.5, 2, 0.66, 2.5), 1.65, 110.653), ((50, 12, 1.5, 4, 0.5, 5), 0.15625, 280.321),
     ((5, 15, 1, 8, 0.66, 10), 0.0055, 1434.457), ((100, 0.5, 4, 0.75, 1, 1), 1066.666667, 1.131)],
)  # fmt: skip
def test_the_pressure_by_joint_sets(ratings: tuple[float, ...], q: float, kpa: float) -> None:
    _, jn, jr, *_ = ratings

    assert q_value(*ratings) == pytest.approx(q, rel=1e-5)
    assert pressure_1974_kpa(q, jn, jr) == pytest.approx(kpa, rel=4e-4)


@reference("2 kg/cm² are 196.1 kPa, and the simple form says 200: 2 % apart at Jn 9",
           "closed form")  # fmt: skip
def test_barton_s_two_forms_meet_at_nine_joint_sets() -> None:
    assert pressure_1974_kpa(1, 9, 1) == pytest.approx(2 * 98.0665, rel=1e-12)
    assert pressure_simple_kpa(1, 1) / pressure_1974_kpa(1, 9, 1) == pytest.approx(
        1.0197, abs=1e-4
    )


@reference("Barton et al. 1974 and 1980: spans and lengths", "from memory")
def test_spans_and_lengths_of_other_drives() -> None:
    spans = [unsupported_span_m(q, esr) for q, esr in ((0.1, 1.6), (1, 1.6), (10, 1.6), (100, 1))]
    lengths = [bolt_length_m(b, esr) for b, esr in ((5, 1.6), (5.5, 1.6), (5, 3), (10, 1))]

    assert spans == pytest.approx([1.273943, 3.2, 8.038037, 12.619147], abs=1e-4)
    assert lengths == pytest.approx([2.46875, 2.515625, 2.25, 3.5], abs=1e-5)


@reference("Barton, Lien and Lunde 1974: a wall's Q by three ranges", "from memory")
def test_walls_have_a_better_q() -> None:
    assert [wall_q(q) for q in (20, 10, 1, 0.1, 0.05)] == [100, 25, 2.5, 0.25, 0.05]


@reference("USACE EM 1110-1-2907, 1980, table 4-1: least length", "from memory")
@pytest.mark.parametrize(
    ("span", "spacing", "block", "length"),
    [(5.0, 1.5, 0.6, 3.0), (5.0, 1.2, 0.5, 2.5), (12.0, 0.1, 0.0, 3.786),
     (16.4 * FOOT, 4.92 * FOOT, FOOT, 2.9992), (19.9 * FOOT, 4 * FOOT, 0.5 * FOOT, 3.0328),
     (40 * FOOT, 5 * FOOT, FOOT, 3.81), (60 * FOOT, 5 * FOOT, FOOT, 4.572)],
)  # fmt: skip
def test_the_least_length(span: float, spacing: float, block: float, length: float) -> None:
    assert least_length_m(span, spacing, block) == pytest.approx(length, abs=1e-3)


@reference("USACE EM 1110-1-2907, 1980: in feet the span rule is continuous", "closed form")
@pytest.mark.parametrize(("span_ft", "length"), [(20, 3.048), (60, 4.572)])
def test_the_span_rule_does_not_jump(span_ft: float, length: float) -> None:
    for span in (span_ft * FOOT - 1e-6, span_ft * FOOT + 1e-6):
        assert least_length_m(span, 0.1, 0) == pytest.approx(length, abs=1e-4)


@reference("USACE EM 1110-1-2907, 1980, table 4-1: greatest spacing", "from memory")
@pytest.mark.parametrize(
    ("length", "block", "spacing"),
    [(2.4, 0.6, 0.9), (3.0, 1.5, 1.5), (4.5, 2.0, 1.8288), (14 * FOOT, 6 * FOOT, 1.8288),
     (8 * FOOT, 3 * FOOT, 1.2192)],
)  # fmt: skip
def test_the_greatest_spacing(length: float, block: float, spacing: float) -> None:
    assert greatest_spacing_m(length, block) == pytest.approx(spacing, abs=1e-3)
    assert greatest_spacing_m(length, None) >= spacing - 1e-9


@reference("USACE EM 1110-1-2907, 1980, table 4-1: least pressure; 6 psi is 41.4 kPa",
           "from memory")  # fmt: skip
@pytest.mark.parametrize(
    ("span", "weight", "kpa"), [(5.0, 27, 41.4), (7.5, 27, 41.4), (20, 26, 104.0)]
)
def test_the_least_pressure(span: float, weight: float, kpa: float) -> None:
    assert least_pressure_kpa(span, weight, intersection=False) == pytest.approx(kpa, abs=0.05)
    assert least_pressure_kpa(span, weight, intersection=True) == pytest.approx(2 * kpa, abs=0.1)


@reference("Course example: 1.5 m of 2700 kg/m³ at 2 m/s over 0.2 m of yield travel",
           "published")  # fmt: skip
def test_rock_thrown_out_of_the_back_and_of_a_wall() -> None:
    thrown, fallen = thrown_kj_per_m2(1.5, 2700, 2), fallen_kj_per_m2(1.5, 2700, 0.2)

    assert thrown == pytest.approx(8.1, abs=1e-9)
    assert thrown + fallen == pytest.approx(16.05, abs=5e-3)


@reference("½·ρ·t·v², 1 m of 2700 kg/m³", "closed form")
@pytest.mark.parametrize(
    ("velocity", "energy"), [(1, 1.35), (2, 5.40), (3, 12.15), (4, 21.60), (5, 33.75)]
)
def test_the_energy_of_a_metre_of_rock(velocity: float, energy: float) -> None:
    assert thrown_kj_per_m2(1.0, 2700, velocity) == pytest.approx(energy, abs=1e-9)


@reference("Ejected slab of 0.5 m at 3 m/s: 6.075 kJ/m², 8.748 kJ a bolt at 1.2 m; 27.3 at 1.5 m",
           "closed form")  # fmt: skip
def test_the_energy_on_one_bolt() -> None:
    assert thrown_kj_per_m2(0.5, 2700, 3) == pytest.approx(6.075, rel=1e-9)
    assert thrown_kj_per_m2(0.5, 2700, 3) * 1.2**2 == pytest.approx(8.748, rel=1e-9)
    assert thrown_kj_per_m2(1.0, 2700, 3) * 1.5**2 == pytest.approx(27.3, abs=0.05)


@reference("Suspension, Hoek and Brown 1980: T = F·γ·t·s², 27 kN/m³, 1.0 m, 1.2 m, F 1.5",
           "from memory")  # fmt: skip
def test_dead_weight_on_one_bolt() -> None:
    pressure = slab_pressure_kpa(1.0, 27_000 / 9.81)

    assert 1.5 * pressure == pytest.approx(40.5, abs=1e-9)
    assert 1.5 * pressure * 1.2**2 == pytest.approx(58.32, abs=1e-9)
