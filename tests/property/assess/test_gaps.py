"""The largest gap beside a slow method of its own, and under moves that must not matter."""

import math
from itertools import combinations, pairwise

import numpy as np
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from fieldapp.assess.gaps.area import Area, FaceLine, Points, supported_area
from fieldapp.assess.gaps.largest import largest_gap
from fieldapp.assess.gaps.uncertainty import Doubt, Doubts, gap_uncertainty_m

DEEP_M, WIDE_M = 6.0, 8.0

coordinates = st.integers(0, 60).map(lambda tenths: tenths / 10) | st.floats(0, DEEP_M)
places = st.lists(
    st.tuples(coordinates, st.floats(-WIDE_M / 2, WIDE_M / 2)), min_size=0, max_size=12
)
faces = st.tuples(*[st.floats(0.3, 2.0)] * 3)


def ground(read: tuple[float, float, float]) -> tuple[Area, FaceLine]:
    half = WIDE_M / 2
    left, middle, right = (DEEP_M + one for one in read)
    face = FaceLine(((left, -half), (middle, 0.0), (right, half)))
    edges = [(0.0, -half), (DEEP_M, -half)], [(0.0, half), (DEEP_M, half)]
    return supported_area(*edges, face), face


def as_points(bolts: list[tuple[float, float]]) -> Points:
    return np.array(bolts, dtype=float).reshape(-1, 2)


def radius_at(places_m: Points, bolts: Points, face: FaceLine) -> Points:
    """The largest circle about each place that holds no bolt and stays behind the face."""
    parts = list(pairwise(face.corners))
    nearest = np.array([min(math.dist(p, _foot(p, a, b)) for a, b in parts) for p in places_m])
    for bolt in bolts:
        nearest = np.minimum(nearest, np.hypot(*(places_m - bolt).T))
    return nearest


def _foot(place: Points, a: Points, b: Points) -> Points:
    along = b - a
    share = min(1.0, max(0.0, float((place - a) @ along / (along @ along))))
    return np.asarray(a + share * along)


@settings(max_examples=60, deadline=None)
@given(places, faces)
def test_no_place_on_a_grid_has_a_wider_circle(
    bolts: list[tuple[float, float]], read: tuple[float, float, float]
) -> None:
    area, face = ground(read)
    found = largest_gap(as_points(bolts), area, face)
    x, s = np.meshgrid(np.linspace(0, DEEP_M + 2, 41), np.linspace(-WIDE_M / 2, WIDE_M / 2, 41))
    grid = area.held(np.column_stack((x.ravel(), s.ravel())))

    assert float(radius_at(grid, as_points(bolts), face).max()) * 2 <= found.diameter_m + 1e-9


@settings(max_examples=60, deadline=None)
@given(places, faces)
def test_the_circle_is_empty_lies_behind_the_face_and_in_the_area(
    bolts: list[tuple[float, float]], read: tuple[float, float, float]
) -> None:
    area, face = ground(read)
    found = largest_gap(as_points(bolts), area, face)
    centre = np.array([found.centre_m])

    assert len(area.held(centre)) == 1
    radius = float(radius_at(centre, as_points(bolts), face)[0])
    assert abs(2 * radius - found.diameter_m) < 1e-7


@settings(max_examples=25, deadline=None)
@given(places.filter(lambda bolts: len(bolts) > 1), faces)
def test_no_step_from_the_centre_widens_the_circle(
    bolts: list[tuple[float, float]], read: tuple[float, float, float]
) -> None:
    area, face = ground(read)
    found = largest_gap(as_points(bolts), area, face)
    around = np.array(
        [
            (found.centre_m[0] + r * math.cos(a), found.centre_m[1] + r * math.sin(a))
            for r in (1e-4, 1e-2, 0.1)
            for a in np.linspace(0, math.tau, 24)
        ]
    )
    held = area.held(around)
    assume(len(held))

    assert float(radius_at(held, as_points(bolts), face).max()) * 2 <= found.diameter_m + 1e-9


@settings(max_examples=60, deadline=None)
@given(places, faces, st.tuples(coordinates, st.floats(-WIDE_M / 2, WIDE_M / 2)))
def test_one_more_bolt_never_widens_the_gap(
    bolts: list[tuple[float, float]],
    read: tuple[float, float, float],
    another: tuple[float, float],
) -> None:
    area, face = ground(read)
    before = largest_gap(as_points(bolts), area, face).diameter_m
    after = largest_gap(as_points([*bolts, another]), area, face).diameter_m
    without_face = largest_gap(as_points(bolts), area, None).diameter_m
    and_after = largest_gap(as_points([*bolts, another]), area, None).diameter_m

    assert after <= before + 1e-9
    assert and_after <= without_face + 1e-9
    assert before <= without_face + 1e-9


@settings(max_examples=60, deadline=None)
@given(places, faces, st.floats(0, 2000))
def test_neither_a_shift_along_the_drive_nor_a_mirror_matters(
    bolts: list[tuple[float, float]], read: tuple[float, float, float], shift: float
) -> None:
    area, face = ground(read)
    here = largest_gap(as_points(bolts), area, face).diameter_m
    moved = largest_gap(
        as_points([(x + shift, s) for x, s in bolts]),
        Area(tuple((x + shift, s) for x, s in area.outline_m)),
        FaceLine(tuple((x + shift, s) for x, s in face.places_m)),
    )
    mirrored_area, mirrored_face = ground((read[2], read[1], read[0]))
    mirrored = largest_gap(as_points([(x, -s) for x, s in bolts]), mirrored_area, mirrored_face)

    assert abs(moved.diameter_m - here) < 1e-7
    assert abs(mirrored.diameter_m - here) < 1e-9


@settings(max_examples=40, deadline=None)
@given(st.lists(st.tuples(st.floats(0, 6), st.floats(0, 6)), min_size=3, max_size=9, unique=True))
def test_every_triple_by_hand_finds_the_same_width(points: list[tuple[float, float]]) -> None:
    """Without a face: circumcentres of all triples, and on the edges what lies midway."""
    square = Area(((0, 0), (6, 0), (6, 6), (0, 6)))
    bolts = as_points(points)
    places_m = [np.array(corner) for corner in square.outline_m]
    for a, b, c in combinations(bolts, 3):
        sides = 2 * np.array([b - a, c - a])
        if abs(np.linalg.det(sides)) > 1e-9:
            places_m.append(np.linalg.solve(sides, [b @ b - a @ a, c @ c - a @ a]))
    for start, end in zip(square.starts, square.ends, strict=True):
        places_m += [start + t * (end - start) for t in _peaks(bolts, start, end)]
    inside = square.held(np.array(places_m))
    widest = max(float(np.hypot(*(bolts - place).T).min()) for place in inside)

    assert abs(largest_gap(bolts, square, None).diameter_m - 2 * widest) < 1e-7


def _peaks(bolts: Points, start: Points, end: Points) -> list[float]:
    """Where along an edge two bolts are equally far: |p - a|² = |p - b|² is linear in t."""
    along = end - start
    crossings = []
    for a, b in combinations(bolts, 2):
        slope = 2 * along @ (b - a)
        if abs(slope) > 1e-12:
            crossings.append(float((b @ b - a @ a - 2 * start @ (b - a)) / slope))
    return [t for t in crossings if 0 <= t <= 1]


@settings(max_examples=30, deadline=None)
@given(st.integers(0, 10_000))
def test_the_uncertainty_is_the_spread_of_the_gap_when_bolts_are_moved(seed: int) -> None:
    """First order beside central differences, each bolt moved by itself."""
    rng = np.random.default_rng(seed)
    bolts = np.column_stack((rng.uniform(0, DEEP_M, 9), rng.uniform(-WIDE_M / 2, WIDE_M / 2, 9)))
    area, face = ground((0.7, 1.0, 0.6))
    gap = largest_gap(bolts, area, face)
    step = 1e-5
    squares = 0.0
    for n, axis in np.ndindex(9, 2):
        widths = []
        for sign in (1, -1):
            moved = bolts.copy()
            moved[n, axis] += sign * step
            widths.append(largest_gap(moved, area, face).diameter_m)
        slope = (widths[0] - widths[1]) / (2 * step)
        assume(abs(widths[0] + widths[1] - 2 * gap.diameter_m) < 1e-8)  # not at a kink
        squares += (slope * 0.02) ** 2
    each = tuple(Doubt(row=0, chainage_m=0.02, s_m=0.02) for _ in range(9))

    stated = gap_uncertainty_m(gap, bolts, Doubts(each, (0.0,), 0.0), (area, face))

    assert abs(stated - math.sqrt(squares)) < 1e-4
