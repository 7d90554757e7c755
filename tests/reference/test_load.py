"""Tributary areas beside closed forms; pressures and energies stand in `values.load`."""

import numpy as np
import pytest
import shapely

from fieldapp.assess.load.tributary import tributary
from tests.reference.record import reference


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
