"""Lines and areas as quads for a Mesh, with smooth edges and colours out of one texture.

A quad's corner is (x, y, u, v). `u` says how many pixels lie between it and the edge of its
stroke: the texture fades in over the first pixel. `v` picks the row of the colour.
"""

from collections.abc import Sequence
from itertools import pairwise
from math import ceil, cos, pi, sin

import numpy as np

Pixel = tuple[float, float]
Ends = np.ndarray[tuple[int, ...], np.dtype[np.float64]]
Quads = np.ndarray[tuple[int, ...], np.dtype[np.float32]]

FADE_TEXELS = 64
TEXELS_PER_PX = 4
DEEPEST_PX = FADE_TEXELS / TEXELS_PER_PX
"""Farther from its edge a stroke is as solid as it gets."""


class Strokes:
    """Collects quads; the painter takes them all at once."""

    def __init__(self, rows: dict[str, float]) -> None:
        self._rows = rows
        self._parts: list[Quads] = []

    @property
    def quads(self) -> Quads:
        """All quads, shaped (quads, corners, 4)."""
        return np.concatenate([np.empty((0, 4, 4), dtype=np.float32), *self._parts])

    def area(self, corner: Pixel, size: Pixel, ink: str) -> None:
        """Fill a box."""
        (x, y), (wide, high), v = corner, size, self._rows[ink]
        corners = ((x, y), (x + wide, y), (x + wide, y + high), (x, y + high))
        self._parts.append(np.array([[(*each, 1.0, v) for each in corners]], dtype=np.float32))

    def line(
        self, points: Sequence[Pixel], width: float, ink: str, *, closed: bool = False
    ) -> None:
        """Draw a line through points."""
        path = np.array([*points, *points[: 1 if closed else 0]], dtype=np.float64)
        self._legs(path[:-1], path[1:], width, ink, beyond=width * 0.4)

    def dashed(self, points: Sequence[Pixel], width: float, ink: str, dash: float) -> None:
        """Draw a broken line through points; the gaps are as long as the dashes."""
        path = np.array(points, dtype=np.float64)
        starts, ends = _dashes(path, dash)
        self._legs(starts, ends, width, ink, beyond=0.3)

    def box(self, corner: Pixel, size: Pixel, width: float, ink: str, rounding: float = 0) -> None:
        """Draw the line of a box."""
        self.line(box_points(corner, size, rounding), width, ink, closed=True)

    def polygon(self, points: Sequence[Pixel], ink: str) -> None:
        """Fill what points go around, that bulges nowhere inwards."""
        self._fan(points[0], points[1:], (1.0, 1.0), ink)

    def disc(self, centre: Pixel, radius: float, ink: str) -> None:
        """Fill a circle, with a smooth edge."""
        reach = radius + 0.5
        self._fan(centre, circle_points(centre, reach), (reach / DEEPEST_PX, 0.0), ink)

    def _fan(
        self, middle: Pixel, around: Sequence[Pixel], solid: tuple[float, float], ink: str
    ) -> None:
        """Fill from a point to a line around it; `solid` is how much so there and at the line."""
        v, (inside, edge) = self._rows[ink], solid
        quads = [
            [(*middle, inside, v), (*one, edge, v), (*other, edge, v), (*other, edge, v)]
            for one, other in pairwise(around)
        ]
        self._parts.append(np.array(quads, dtype=np.float32))

    def hatched(self, corner: Pixel, size: Pixel, spacing: float, width: float, ink: str) -> None:
        """Draw slanting lines in a box."""
        (left, bottom), (wide, high) = corner, size
        at = np.arange(left - high + spacing, left + wide, spacing)
        enter, leave = np.maximum(at, left), np.minimum(at + high, left + wide)
        starts = np.stack([enter, bottom + enter - at], axis=1)
        ends = np.stack([leave, bottom + leave - at], axis=1)
        self._legs(starts, ends, width, ink, beyond=0)

    def lines(self, pairs: Sequence[tuple[Pixel, Pixel]], width: float, ink: str) -> None:
        """Draw straight lines, each between two ends."""
        if pairs:
            ends = np.array(pairs, dtype=np.float64)
            self._legs(ends[:, 0], ends[:, 1], width, ink, beyond=0)

    def _legs(self, starts: Ends, ends: Ends, width: float, ink: str, beyond: float) -> None:
        """Draw straight lines: two quads each, that fade towards their outer edges."""
        way = ends - starts
        length = np.hypot(way[:, 0], way[:, 1])
        some = length > 0
        starts, ends, along = starts[some], ends[some], way[some] / length[some, None]
        starts, ends = starts - along * beyond, ends + along * beyond
        half = width / 2 + 0.5
        aside = np.stack([-along[:, 1], along[:, 0]], axis=1) * half
        quads = np.empty((len(starts), 2, 4, 4), dtype=np.float32)
        quads[..., 2] = (min(half / DEEPEST_PX, 1.0),) * 2 + (0.0, 0.0)
        quads[..., 3] = self._rows[ink]
        for side, sign in enumerate((1, -1)):
            corners = (starts, ends, ends + aside * sign, starts + aside * sign)
            for number, corner in enumerate(corners):
                quads[:, side, number, :2] = corner
        self._parts.append(quads.reshape(-1, 4, 4))


def circle_points(centre: Pixel, radius: float) -> list[Pixel]:
    """Give points around a circle, close enough that no corner is seen."""
    count = max(24, ceil(pi * radius**0.5 * 2))
    angles = [2 * pi * number / count for number in range(count + 1)]
    return [(centre[0] + radius * cos(angle), centre[1] + radius * sin(angle)) for angle in angles]


def box_points(corner: Pixel, size: Pixel, rounding: float) -> list[Pixel]:
    """Give points around a box with round corners."""
    (x, y), (wide, high) = corner, size
    rounding = min(rounding, wide / 2, high / 2)
    middles = (
        (x + wide - rounding, y + high - rounding),
        (x + rounding, y + high - rounding),
        (x + rounding, y + rounding),
        (x + wide - rounding, y + rounding),
    )
    steps = 6 if rounding else 0
    return [
        (mx + rounding * cos(angle), my + rounding * sin(angle))
        for quarter, (mx, my) in enumerate(middles)
        for angle in (pi / 2 * (quarter + step / max(steps, 1)) for step in range(steps + 1))
    ]


def _dashes(path: Ends, dash: float) -> tuple[Ends, Ends]:
    """Cut a line into dashes, as straight pieces: a dash that goes round a corner has two."""
    way = np.diff(path, axis=0)
    upto = np.concatenate([[0.0], np.cumsum(np.hypot(way[:, 0], way[:, 1]))])
    edges = np.arange(0.0, upto[-1] + dash, dash).clip(max=upto[-1])
    cuts = np.union1d(edges, upto)
    middles = (cuts[:-1] + cuts[1:]) / 2
    drawn = (middles // dash).astype(int) % 2 == 0
    points = np.stack([np.interp(cuts, upto, path[:, axis]) for axis in (0, 1)], axis=1)
    return points[:-1][drawn], points[1:][drawn]
