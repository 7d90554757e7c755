"""How sure the largest gap is: from where the bolts on the circle are, to its diameter.

The circle is held by bolts, the face and the edges of the area. Moving a holder outward by
δ lets the radius grow by λ·δ, where the weights λ of bolts and face add up to 1 and balance
their pulls on the centre (an edge only pushes). More than three holders leave a choice; the
largest uncertainty among the choices is stated.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np

from fieldapp.assess.gaps.area import Area, FaceLine, Points, distances_to_lines
from fieldapp.assess.gaps.largest import Gap

_TOUCH_M = 1e-6


@dataclass(frozen=True)
class Doubt:
    """Standard uncertainties of one bolt's own place in its row, along the drive and across [m].

    Bolts of one `row` share the errors of the steps that lead to it.
    """

    row: int
    chainage_m: float
    s_m: float


@dataclass(frozen=True)
class Doubts:
    """Standard uncertainties of everything that can hold a gap [m].

    `steps_m` leads from row to row: an error of step n moves row n and every row inbye of it,
    and the face, which was read from the last row. `face_m` is that reading's own.
    """

    bolts: tuple[Doubt, ...]
    steps_m: tuple[float, ...]
    face_m: float


@dataclass(frozen=True)
class _Holder:
    """What holds the circle: its pull on the centre and what an error of it would do."""

    pull: tuple[float, float]
    bolt: int | None = None
    face: bool = False


def gap_uncertainty_m(
    gap: Gap, bolts_m: Points, doubts: Doubts, bounds: tuple[Area, FaceLine | None]
) -> float:
    """Carry the uncertainty of the bolts and the face to the gap's diameter.

    Parameters
    ----------
    gap : Gap
        The largest gap. [m]
    bolts_m : array of shape (n, 2)
        The bolts it was found among. [m]
    doubts : Doubts
        Standard uncertainty of each bolt's place, of each row and of the face. [m]
    bounds : (Area, FaceLine or None)
        The ground it was found in. [m]

    Returns
    -------
    float
        Standard uncertainty of the diameter. [m]

    Source
    ------
    JCGM 100:2008, 5.1.2 (first order) and 5.2.2 (errors that several bolts share).
    """
    holders = tuple(_holders(gap, np.asarray(bolts_m, dtype=np.float64), bounds))
    found = [
        _combined(held, weights, doubts)
        for held in combinations(holders, 3)
        if (weights := _weights(held)) is not None
    ]
    if not found:  # held by nothing that was measured
        held_by = [doubts.bolts[n] for n in gap.touching]
        found = [math.hypot(doubt.chainage_m, doubt.s_m) for doubt in held_by]
    return 2 * max(found, default=0.0)


def _holders(gap: Gap, bolts: Points, bounds: tuple[Area, FaceLine | None]) -> Iterator[_Holder]:
    centre = np.array([gap.centre_m])
    for number in gap.touching:
        yield _Holder(_toward(bolts[number] - centre[0]), bolt=number)
    area, face = bounds
    if gap.touches_face and face is not None:
        off = distances_to_lines(centre, face.corners[:-1], face.corners[1:])[0]
        for part in np.flatnonzero(off - gap.diameter_m / 2 < _TOUCH_M):
            yield _Holder(_toward(_nearest(face, int(part), centre[0]) - centre[0]), face=True)
    off = distances_to_lines(centre, area.starts, area.ends)[0]
    for edge in np.flatnonzero(off < _TOUCH_M):
        yield _Holder(_outward(area, int(edge)))


def _nearest(face: FaceLine, part: int, place: Points) -> Points:
    """Give the place of a part of the face that the circle touches: it may be its end."""
    start, end = face.corners[part], face.corners[part + 1]
    along = end - start
    share = min(max(float((place - start) @ along / (along @ along)), 0.0), 1.0)
    return np.asarray(start + share * along)


def _outward(area: Area, edge: int) -> tuple[float, float]:
    along = area.ends[edge] - area.starts[edge]
    x, s = area.starts.T
    x2, s2 = area.ends.T
    turns = 1.0 if float((x * s2 - x2 * s).sum()) > 0 else -1.0
    return _toward(turns * np.array([along[1], -along[0]]))


def _toward(vector: Points) -> tuple[float, float]:
    """Give the direction; none where the circle is a point on what holds it."""
    length = math.hypot(*vector)
    if length < _TOUCH_M:
        return 0.0, 0.0
    return float(vector[0]) / length, float(vector[1]) / length


def _weights(held: Sequence[_Holder]) -> tuple[float, ...] | None:
    """Balance the pulls of three; None if they don't hold a circle (Cramer's rule)."""
    rests = [1.0 if one.face or one.bolt is not None else 0.0 for one in held]
    crossed = [_cross(held[1], held[2]), _cross(held[2], held[0]), _cross(held[0], held[1])]
    whole = sum(rest * turn for rest, turn in zip(rests, crossed, strict=True))
    if abs(whole) < _TOUCH_M:
        return None
    weights = tuple(turn / whole for turn in crossed)
    return weights if min(weights) > -_TOUCH_M else None


def _cross(a: _Holder, b: _Holder) -> float:
    return a.pull[0] * b.pull[1] - a.pull[1] * b.pull[0]


def _combined(held: Sequence[_Holder], weights: Sequence[float], doubts: Doubts) -> float:
    parts: list[float] = []
    by_row = [0.0] * len(doubts.steps_m)
    for one, weight in zip(held, weights, strict=True):
        if one.bolt is not None:
            doubt = doubts.bolts[one.bolt]
            parts += [weight * one.pull[0] * doubt.chainage_m, weight * one.pull[1] * doubt.s_m]
            by_row[doubt.row] += weight * one.pull[0]
        elif one.face:
            parts.append(weight * doubts.face_m)
            by_row[-1] += weight * one.pull[0]
    inbye = [math.fsum(by_row[row:]) for row in range(len(by_row))]
    parts += [moved * step for moved, step in zip(inbye, doubts.steps_m, strict=True)]
    return math.hypot(*parts)
