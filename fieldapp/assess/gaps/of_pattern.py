"""The largest gap of a perfect pattern, and of one with bolts missing, away from its edges.

The standard's gap limits are checked against these: a limit below the pattern at full
tolerance reworks good rounds, one at or above the value with a bolt missing sees nothing.
Pure arithmetic on the lattice, on purpose another way than `gaps`, so that each can be
tested by the other.
"""

import math
from collections.abc import Iterable, Iterator
from functools import lru_cache
from itertools import combinations
from typing import TypeAlias

Vector: TypeAlias = tuple[float, float]
Step: TypeAlias = tuple[int, int]
"""(rows along the drive, places in the row) in the lattice of the pattern."""

_REACH = 4
_CLOSE = 1e-9


def intact_gap_m(spacing_m: float, row_spacing_m: float, *, staggered: bool) -> float:
    """Give the largest gap of the pattern with every bolt in its place.

    Parameters
    ----------
    spacing_m : float
        Bolt spacing within the row. [m]
    row_spacing_m : float
        Row to row. [m]
    staggered : bool
        Every other row shifted by half a spacing. [-]

    Returns
    -------
    float
        √(s² + b²) square; b + s²/(4b) staggered, as long as b ≥ s/2. [m]

    Source
    ------
    Circumscribed circle of the reduced cell of a lattice: geometry.
    """
    u, v = _reduced(*_cell(spacing_m, row_spacing_m, staggered=staggered))
    w = (v[0] - u[0], v[1] - u[1]) if _dot(u, v) > 0 else (v[0] + u[0], v[1] + u[1])
    area = abs(u[0] * v[1] - u[1] * v[0])
    return math.hypot(*u) * math.hypot(*v) * math.hypot(*w) / area


@lru_cache(maxsize=256)  # two rules ask for the same, and every bundle brings its standard along
def one_missing_gap_m(spacing_m: float, row_spacing_m: float, *, staggered: bool) -> float:
    """Give the largest gap of the pattern with one bolt missing.

    Parameters
    ----------
    spacing_m : float
        Bolt spacing within the row. [m]
    row_spacing_m : float
        Row to row. [m]
    staggered : bool
        Every other row shifted by half a spacing. [-]

    Returns
    -------
    float
        (s² + b²)/max(s, b) in a square pattern. [m]

    Source
    ------
    Geometry: the widest circle through three bolts around the missing one.
    """
    return missing_gap_m(spacing_m, row_spacing_m, ((0, 0),), staggered=staggered)


def missing_gap_m(
    spacing_m: float, row_spacing_m: float, missing: Iterable[Step], *, staggered: bool
) -> float:
    """Give the largest gap of the pattern with stated bolts missing.

    Parameters
    ----------
    spacing_m : float
        Bolt spacing within the row. [m]
    row_spacing_m : float
        Row to row. [m]
    missing : iterable of (rows, places)
        Steps from one bolt; a step to the next row goes half a spacing right in a staggered
        pattern. [-]
    staggered : bool
        Every other row shifted by half a spacing. [-]

    Returns
    -------
    float
        Diameter. [m]

    Source
    ------
    Geometry: the widest empty circle through three bolts around the missing ones.
    """
    cell = _cell(spacing_m, row_spacing_m, staggered=staggered)
    u, v = _reduced(*cell)
    holes = {_in_basis(_at(step, *cell), u, v) for step in missing}
    steps = range(-_REACH, _REACH + 1)
    around = {(i + p, j + q) for i, j in holes for p in steps for q in steps} - holes
    near = [s for s in sorted(around) if any(max(_apart(s, hole)) <= 1 for hole in holes)]
    bolts = [_at(step, u, v) for step in sorted(around)]
    radii = _empty_radii([_at(step, u, v) for step in near], bolts)
    return max(2 * max(radii), intact_gap_m(spacing_m, row_spacing_m, staggered=staggered))


def _cell(spacing_m: float, row_spacing_m: float, *, staggered: bool) -> tuple[Vector, Vector]:
    if spacing_m <= 0 or row_spacing_m <= 0:
        raise ValueError("a spacing must be positive")
    return (row_spacing_m, spacing_m / 2 if staggered else 0.0), (0.0, spacing_m)


def _reduced(u: Vector, v: Vector) -> tuple[Vector, Vector]:
    """Give the two shortest steps of the lattice (Lagrange and Gauss)."""
    while True:
        if _dot(u, u) > _dot(v, v):
            u, v = v, u
        times = round(_dot(u, v) / _dot(u, u) - _CLOSE)
        if times == 0:
            return u, v
        v = (v[0] - times * u[0], v[1] - times * u[1])


def _empty_radii(corners: list[Vector], bolts: list[Vector]) -> Iterator[float]:
    for a, b, c in combinations(corners, 3):
        centre = _circumcentre(a, b, c)
        if centre is not None:
            radius = math.dist(centre, a)
            if all(math.dist(centre, bolt) > radius - _CLOSE for bolt in bolts):
                yield radius


def _circumcentre(a: Vector, b: Vector, c: Vector) -> Vector | None:
    bx, by, cx, cy = b[0] - a[0], b[1] - a[1], c[0] - a[0], c[1] - a[1]
    twice = 2 * (bx * cy - by * cx)
    if abs(twice) < _CLOSE:
        return None
    bb, cc = bx * bx + by * by, cx * cx + cy * cy
    return a[0] + (cy * bb - by * cc) / twice, a[1] + (bx * cc - cx * bb) / twice


def _in_basis(place: Vector, u: Vector, v: Vector) -> Step:
    area = u[0] * v[1] - u[1] * v[0]
    i = (place[0] * v[1] - place[1] * v[0]) / area
    j = (u[0] * place[1] - u[1] * place[0]) / area
    return round(i), round(j)


def _at(step: Step, u: Vector, v: Vector) -> Vector:
    return step[0] * u[0] + step[1] * v[0], step[0] * u[1] + step[1] * v[1]


def _apart(a: Step, b: Step) -> Step:
    return abs(a[0] - b[0]), abs(a[1] - b[1])


def _dot(a: Vector, b: Vector) -> float:
    return a[0] * b[0] + a[1] * b[1]
