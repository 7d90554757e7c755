"""From chainage and the place on the rock to the mine's own grid, along a surveyed line."""

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot
from typing import Final

Place = tuple[float, float, float]
"""East, north and height [m]."""
HALF_M: Final = 0.5
"""The line's direction at a place is that from so far outbye to so far inbye of it."""


@dataclass(frozen=True)
class LinePoint:
    """A point of the line, on the floor. [m]."""

    chainage_m: float
    east_m: float
    north_m: float
    height_m: float


class SurveyedLine:
    """The line along which a heading's chainage is measured, as it was surveyed.

    Parameters
    ----------
    points : sequence of LinePoint
        In any order, two at least, none at the chainage of another. [m]

    Raises
    ------
    ValueError
        They are too few, or two have one chainage.
    """

    def __init__(self, points: Sequence[LinePoint]) -> None:
        self._points = sorted(points, key=lambda it: it.chainage_m)
        self._chainages_m = [it.chainage_m for it in self._points]
        if len(set(self._chainages_m)) < max(2, len(self._points)):
            raise ValueError("a line has two points at least, each at a chainage of its own")

    @property
    def ends_m(self) -> tuple[float, float]:
        """Where it begins and ends, as chainages [m]."""
        return self._chainages_m[0], self._chainages_m[-1]

    def holds(self, chainage_m: float) -> bool:
        """Whether a chainage [m] lies on it: beyond its ends nobody has surveyed."""
        return self.ends_m[0] <= chainage_m <= self.ends_m[1]

    def at(self, chainage_m: float, across_m: float = 0.0, up_m: float = 0.0) -> Place:
        """Give the grid coordinates of a place in the drive.

        Parameters
        ----------
        chainage_m : float
            Along the line. [m]
        across_m : float
            Level, square to the line, looking toward the face: to the right positive. [m]
        up_m : float
            Straight up from the floor. [m]

        Returns
        -------
        (float, float, float)
            East, north and height. [m]

        Raises
        ------
        ValueError
            It lies beyond the line's ends.

        Source
        ------
        Geometry: between two points of the line the floor runs straight, and chainage with it.
        """
        if not self.holds(chainage_m):
            raise ValueError(f"{chainage_m} m lies beyond the surveyed line")
        east, north, height = self._on_line(chainage_m)
        toward_east, toward_north = self._direction(chainage_m)
        return (
            east + across_m * toward_north,
            north - across_m * toward_east,
            height + up_m,
        )

    def _on_line(self, chainage_m: float) -> Place:
        after = min(max(bisect_right(self._chainages_m, chainage_m), 1), len(self._points) - 1)
        a, b = self._points[after - 1], self._points[after]
        share = (chainage_m - a.chainage_m) / (b.chainage_m - a.chainage_m)
        return (
            a.east_m + share * (b.east_m - a.east_m),
            a.north_m + share * (b.north_m - a.north_m),
            a.height_m + share * (b.height_m - a.height_m),
        )

    def _direction(self, chainage_m: float) -> tuple[float, float]:
        """Give which way the face lies, level: over a bend it turns within a metre."""
        begin_m, end_m = self.ends_m
        back = self._on_line(max(begin_m, chainage_m - HALF_M))
        ahead = self._on_line(min(end_m, chainage_m + HALF_M))
        east, north = ahead[0] - back[0], ahead[1] - back[1]
        far = hypot(east, north)
        return (east / far, north / far) if far else (0.0, 1.0)
