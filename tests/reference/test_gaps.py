"""The largest gap against exact figures: point sets, closed forms, wrong rules."""

import math
from collections.abc import Sequence
from itertools import combinations

import numpy as np
import pytest

from fieldapp.assess.gaps.area import Area, FaceLine, supported_area
from fieldapp.assess.gaps.largest import Gap, largest_gap
from fieldapp.assess.gaps.of_pattern import (
    intact_gap_m,
)
from tests.reference.record import reference

ENUMERATION = "Exact: enumeration of all circles through three points or two and an edge"


def rectangle(x1: float, s1: float, x2: float, s2: float) -> Area:
    return Area(((x1, s1), (x2, s1), (x2, s2), (x1, s2)))


def gap_of(points: Sequence[tuple[float, float]], area: Area) -> Gap:
    return largest_gap(np.array(points, dtype=float), area, None)


@reference(ENUMERATION, "closed form")
def test_the_corners_of_a_unit_square() -> None:
    gap = gap_of([(0, 0), (1, 0), (0, 1), (1, 1)], rectangle(0, 0, 1, 1))

    assert gap.diameter_m == pytest.approx(math.sqrt(2), abs=1e-12)
    assert gap.centre_m == pytest.approx((0.5, 0.5), abs=1e-9)
    assert gap.touching == (0, 1, 2, 3)


@reference(ENUMERATION, "closed form")
def test_a_grid_with_one_missing_is_open_around_it() -> None:
    grid = [(i * 1.2, j * 1.2) for i in range(4) for j in range(4) if (i, j) != (1, 1)]
    gap = gap_of(grid, rectangle(0, 0, 3.6, 3.6))

    assert gap.diameter_m == pytest.approx(2.4, abs=1e-9)
    assert gap.centre_m == pytest.approx((1.2, 1.2), abs=1e-9)


@reference(ENUMERATION, "closed form")
def test_a_dice_five_has_four_centres_on_its_edges() -> None:
    gap = gap_of([(0, 0), (2, 0), (0, 2), (2, 2), (1, 1)], rectangle(0, 0, 2, 2))

    assert gap.diameter_m == pytest.approx(2.0, abs=1e-9)
    assert any(
        gap.centre_m == pytest.approx(tied, abs=1e-9) for tied in ((0, 1), (1, 0), (1, 2), (2, 1))
    )


@reference(ENUMERATION, "closed form")
def test_six_points_in_a_rectangle() -> None:
    points = [(0, 0), (4, 0), (4, 3), (0, 3), (1, 1), (3, 2)]
    gap = gap_of(points, rectangle(0, 0, 4, 3))

    assert gap.diameter_m == pytest.approx(10 / 3, abs=1e-9)
    assert any(gap.centre_m == pytest.approx(tied, abs=1e-9) for tied in ((5 / 3, 3), (7 / 3, 0)))


@reference("Circumscribed circle of an equilateral triangle: s/√3", "closed form")
def test_an_equilateral_triangle() -> None:
    corners = ((0.0, 0.0), (3.0, 0.0), (1.5, 1.5 * math.sqrt(3)))
    gap = gap_of(list(corners), Area(corners))

    assert gap.diameter_m == pytest.approx(2 * math.sqrt(3), abs=1e-9)


def drive(
    missing: tuple[tuple[int, int], ...] = (), to_face: float = 0.8, s: float = 1.4, b: float = 1.2
) -> tuple[list[tuple[float, float]], Area, FaceLine]:
    """Six rows of eight bolts; row 5 is the last; the face is flat."""
    half = s * 3.5
    bolts = [(r * b, k * s - half) for r in range(6) for k in range(8) if (r, k) not in missing]
    face = FaceLine(((5 * b + to_face, -half), (5 * b + to_face, half)))
    area = supported_area([(0, -half), (5 * b, -half)], [(0, half), (5 * b, half)], face)
    return bolts, area, face


def drive_gap(missing: tuple[tuple[int, int], ...] = (), to_face: float = 0.8) -> float:
    bolts, area, face = drive(missing, to_face)
    return largest_gap(np.array(bolts), area, face).diameter_m


@reference("Brute force and closed form, away from edges", "closed form")
@pytest.mark.parametrize(
    ("missing", "gap"),
    [((), 1.844), (((3, 3),), 2.429), (((3, 3), (2, 4)), 2.429), (((3, 3), (3, 4)), 2.778),
     (((3, 3), (2, 3)), 3.046)],
)  # fmt: skip
def test_a_drive_of_six_rows(missing: tuple[tuple[int, int], ...], gap: float) -> None:
    assert drive_gap(missing) == pytest.approx(gap, abs=0.001)


@reference("Circle behind the face line: three equations, solved by hand", "closed form")
@pytest.mark.parametrize(("to_face", "gap"), [(0.8, 2.07), (0.5, 1.89)])
def test_a_bolt_missing_in_the_last_row_shows_less_the_nearer_the_face(
    to_face: float, gap: float
) -> None:
    assert drive_gap(((5, 3),), to_face) == pytest.approx(gap, abs=0.01)


@reference("2√(d² + 0.49): the wrong rule, centre free up to the face", "closed form")
@pytest.mark.parametrize(("to_face", "wrong"), [(0.8, 2.13), (1.0, 2.44)])
def test_a_centre_free_up_to_the_face_would_read_too_much(to_face: float, wrong: float) -> None:
    bolts, area, _ = drive((), to_face)
    free = largest_gap(np.array(bolts), area, None).diameter_m

    assert free == pytest.approx(wrong, abs=0.005)
    assert drive_gap((), to_face) == pytest.approx(1.844, abs=0.001)


@reference("A circle wholly inside would read 1.84 with the lowest bolt missing", "closed form")
def test_a_missing_lowest_bolt_is_seen_from_the_floor_side_edge() -> None:
    assert drive_gap(((3, 0),)) == pytest.approx(2.429, abs=0.001)


@reference("b + s²/(4b) = 2.00 at b = 1.71, s = 1.4", "closed form")
def test_a_limit_copied_to_a_staggered_class_lets_rows_drift_apart() -> None:
    assert intact_gap_m(1.4, 1.71, staggered=True) == pytest.approx(2.00, abs=0.005)


@reference("Every circle through three points that is empty, by brute force", "closed form")
@pytest.mark.parametrize("seed", range(4))
def test_random_points_against_every_triple(seed: int) -> None:
    points = np.random.default_rng(seed).uniform(0, 6, (14, 2))
    hull = rectangle(0, 0, 6, 6)
    widest = 0.0
    for a, b, c in combinations(points, 3):
        square = 2 * np.array([b - a, c - a])
        centre = np.linalg.solve(square, np.array([b @ b - a @ a, c @ c - a @ a]))
        radius = float(np.hypot(*(centre - a)))
        inside = bool((centre >= 0).all() and (centre <= 6).all())
        if inside and float(np.hypot(*(points - centre).T).min()) > radius - 1e-9:
            widest = max(widest, radius)
    every_edge = np.linspace(0, 6, 60_001)
    for edge in (0.0, 6.0):
        for along in ((0, 1), (1, 0)):
            places = np.empty((len(every_edge), 2))
            places[:, along[0]], places[:, along[1]] = every_edge, edge
            off = np.hypot(*(places[:, None] - points[None]).transpose(2, 0, 1)).min(axis=1)
            widest = max(widest, float(off.max()))

    assert largest_gap(points, hull, None).diameter_m == pytest.approx(2 * widest, abs=2e-4)
