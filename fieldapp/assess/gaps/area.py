"""The ground in which the largest gap is looked for, and the face line that bounds it.

Both lie on the unrolled rock: chainage to the face, s across, left negative.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

Points = NDArray[np.float64]
"""Rows of (chainage, s) in metres."""

Place = tuple[float, float]

_CLOSE_M = 1e-9


@dataclass(frozen=True)
class Area:
    """The ground that must be supported: the corners of its outline, in order [m].

    A centre may lie inside it or on its edge, never beyond.
    """

    outline_m: tuple[Place, ...]
    starts: Points = field(init=False, repr=False, compare=False)
    ends: Points = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        starts = np.asarray(self.outline_m, dtype=np.float64).reshape(-1, 2)
        ends = np.roll(starts, -1, axis=0)
        object.__setattr__(self, "starts", starts)
        object.__setattr__(self, "ends", ends)
        if len(starts) < 3 or _crosses_itself(starts, ends):  # noqa: PLR2004
            raise ValueError("the outline of the area has no inside or crosses itself")

    def held(self, places_m: Points) -> Points:
        """Keep the places that lie inside or on the edge."""
        low, high = self.starts.min(axis=0) - _CLOSE_M, self.starts.max(axis=0) + _CLOSE_M
        near = ((places_m >= low) & (places_m <= high)).all(axis=1)
        places = places_m[near]
        kept = self._surrounds(places)
        outside = np.flatnonzero(~kept)
        to_edge = distances_to_lines(places[outside], self.starts, self.ends)
        kept[outside[(to_edge <= _CLOSE_M).any(axis=1)]] = True
        return np.asarray(places[kept])

    def _surrounds(self, places_m: Points) -> NDArray[np.bool_]:
        x, s = places_m[:, 0, None], places_m[:, 1, None]
        x1, s1 = self.starts.T
        x2, s2 = self.ends.T
        straddles = (s1 > s) != (s2 > s)
        run = (x2 - x1) / np.where(s2 == s1, 1.0, s2 - s1)
        return np.asarray((straddles & (x < x1 + (s - s1) * run)).sum(axis=1) % 2 == 1)

    @property
    def diagonal_m(self) -> float:
        """Length across, corner to corner [m]."""
        return float(np.hypot(*(self.starts.max(axis=0) - self.starts.min(axis=0))))


@dataclass(frozen=True)
class FaceLine:
    """The face as it was read, from left to right; two places or more [m]."""

    places_m: tuple[Place, ...]
    corners: Points = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        corners = np.asarray(self.places_m, dtype=np.float64).reshape(-1, 2)
        object.__setattr__(self, "corners", corners)
        if len(corners) < 2 or not (np.diff(corners[:, 1]) > 0).all():  # noqa: PLR2004
            raise ValueError("a face line runs from left to right")

    @property
    def normals(self) -> Points:
        """Unit normals of its parts, toward the supported ground."""
        along = np.diff(self.corners, axis=0)
        square = np.column_stack((-along[:, 1], along[:, 0]))
        return np.asarray(square / np.hypot(*along.T)[:, None])

    def distances_m(self, places_m: Points) -> Points:
        """Distance of each place to the line [m]."""
        every = distances_to_lines(places_m, self.corners[:-1], self.corners[1:])
        return np.asarray(every.min(axis=1))


def supported_area(
    left_edge_m: Sequence[Place], right_edge_m: Sequence[Place], face_line: FaceLine | None
) -> Area:
    """Draw the area between its floor-side edges and the face.

    Parameters
    ----------
    left_edge_m : sequence of (chainage, s)
        Left floor-side edge, from the outermost old row to the last row. [m]
    right_edge_m : sequence of (chainage, s)
        The same on the right. [m]
    face_line : FaceLine or None
        The face; None ends the area at the last row. [m]

    Returns
    -------
    Area
        Its outline. [m]

    Raises
    ------
    ValueError
        Edges that cross, or no ground between them.

    Source
    ------
    Common practice, no source.
    """
    if face_line is None:
        return Area((*_plain(left_edge_m), *reversed(_plain(right_edge_m))))
    left, *middle, right = face_line.places_m
    left_m, right_m = _plain([*left_edge_m, left]), _plain([*right_edge_m, right])
    return Area((*left_m, *middle, *reversed(right_m)))


def distances_to_lines(places_m: Points, starts_m: Points, ends_m: Points) -> Points:
    """Measure from each place to each straight line between two ends.

    Parameters
    ----------
    places_m : array of shape (n, 2)
        Places. [m]
    starts_m : array of shape (m, 2)
        One end of each line. [m]
    ends_m : array of shape (m, 2)
        The other end. [m]

    Returns
    -------
    array of shape (n, m)
        Distances. [m]

    Source
    ------
    Geometry.
    """
    along = ends_m - starts_m
    square = np.einsum("ij,ij->i", along, along)
    square = np.where(square == 0, 1.0, square)
    dx = places_m[:, 0, None] - starts_m[:, 0]
    ds = places_m[:, 1, None] - starts_m[:, 1]
    share = np.clip((dx * along[:, 0] + ds * along[:, 1]) / square, 0.0, 1.0)
    return np.asarray(np.hypot(dx - share * along[:, 0], ds - share * along[:, 1]))


def _plain(edge_m: Sequence[Place]) -> list[Place]:
    """Leave out places between two others as far from the crown."""
    inner = range(1, len(edge_m) - 1)
    between = {n for n in inner if edge_m[n - 1][1] == edge_m[n][1] == edge_m[n + 1][1]}
    return [place for n, place in enumerate(edge_m) if n not in between]


def _crosses_itself(starts: Points, ends: Points) -> bool:
    """Tell whether two edges that share no corner cross or touch."""
    n = len(starts)
    one, other = np.triu_indices(n, k=2)
    apart = ~((one == 0) & (other == n - 1))
    a, b, c, d = starts[one], ends[one], starts[other], ends[other]
    crossed = (_turn(a, b, c) * _turn(a, b, d) < 0) & (_turn(c, d, a) * _turn(c, d, b) < 0)
    flat = abs(np.dot(starts[:, 0], ends[:, 1]) - np.dot(starts[:, 1], ends[:, 0])) < _CLOSE_M
    return bool(flat or (crossed & apart).any())


def _turn(a: Points, b: Points, c: Points) -> Points:
    return np.asarray(
        (b[:, 0] - a[:, 0]) * (c[:, 1] - a[:, 1]) - (b[:, 1] - a[:, 1]) * (c[:, 0] - a[:, 0])
    )
