"""Lines and areas as quads for a Mesh, with smooth edges and colours out of one texture.

A quad's corner is (x, y, u, v). `u` says how many pixels lie between it and the edge of its
stroke: the texture fades in over the first pixel. `v` picks the row of the colour.
"""

from collections.abc import Sequence
from itertools import pairwise
from math import ceil, cos, hypot, pi, sin

import numpy as np

Pixel = tuple[float, float]
Quads = np.ndarray[tuple[int, ...], np.dtype[np.float32]]

FADE_TEXELS = 64
TEXELS_PER_PX = 4
DEEPEST_PX = FADE_TEXELS / TEXELS_PER_PX
"""Farther from its edge a stroke is as solid as it gets."""


class Strokes:
    """Collects quads; the painter takes them all at once."""

    def __init__(self, rows: dict[str, float]) -> None:
        self._rows = rows
        self._quads: list[list[tuple[float, float, float, float]]] = []

    @property
    def quads(self) -> Quads:
        """All quads, shaped (quads, corners, 4)."""
        return np.array(self._quads, dtype=np.float32).reshape(-1, 4, 4)

    def area(self, corner: Pixel, size: Pixel, ink: str) -> None:
        """Fill a box."""
        (x, y), (wide, high) = corner, size
        corners = ((x, y), (x + wide, y), (x + wide, y + high), (x, y + high))
        v = self._rows[ink]
        self._quads.append([(px, py, 1.0, v) for px, py in corners])

    def line(
        self, points: Sequence[Pixel], width: float, ink: str, *, closed: bool = False
    ) -> None:
        """Draw a line through points."""
        path = [*points, *points[: 1 if closed else 0]]
        for start, end in pairwise(path):
            self._leg(start, end, width, ink, beyond=width * 0.4)

    def dashed(self, points: Sequence[Pixel], width: float, ink: str, dash: float) -> None:
        """Draw a broken line through points; the gaps are as long as the dashes."""
        for leg in _dashes(points, dash):
            for start, end in pairwise(leg):
                self._leg(start, end, width, ink, beyond=0.3)

    def box(self, corner: Pixel, size: Pixel, width: float, ink: str, rounding: float = 0) -> None:
        """Draw the line of a box."""
        self.line(box_points(corner, size, rounding), width, ink, closed=True)

    def hatched(self, corner: Pixel, size: Pixel, spacing: float, width: float, ink: str) -> None:
        """Draw slanting lines in a box."""
        (left, bottom), (wide, high) = corner, size
        start = left - high
        for number in range(1, ceil((wide + high) / spacing)):
            at = start + number * spacing
            enter, leave = max(at, left), min(at + high, left + wide)
            if leave > enter:
                begin = (enter, bottom + enter - at)
                self._leg(begin, (leave, bottom + leave - at), width, ink, beyond=0)

    def _leg(self, start: Pixel, end: Pixel, width: float, ink: str, beyond: float) -> None:
        length = hypot(end[0] - start[0], end[1] - start[1])
        if not length:
            return
        ax, ay = (end[0] - start[0]) / length, (end[1] - start[1]) / length
        x0, y0 = start[0] - ax * beyond, start[1] - ay * beyond
        x1, y1 = end[0] + ax * beyond, end[1] + ay * beyond
        half = width / 2 + 0.5
        nx, ny, v, deep = -ay * half, ax * half, self._rows[ink], min(half / DEEPEST_PX, 1.0)
        for side in (1, -1):
            self._quads.append(
                [
                    (x0, y0, deep, v),
                    (x1, y1, deep, v),
                    (x1 + nx * side, y1 + ny * side, 0.0, v),
                    (x0 + nx * side, y0 + ny * side, 0.0, v),
                ]
            )


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


def _dashes(points: Sequence[Pixel], dash: float) -> list[list[Pixel]]:
    """Cut a line into dashes; each is a list of points, so that it may go round a corner."""
    found: list[list[Pixel]] = []
    current: list[Pixel] = [points[0]]
    drawing, left = True, dash
    for (x0, y0), (x1, y1) in pairwise(points):
        length, done = hypot(x1 - x0, y1 - y0), 0.0
        while length - done > left:
            done += left
            at = (x0 + (x1 - x0) * done / length, y0 + (y1 - y0) * done / length)
            if drawing:
                found.append([*current, at])
            drawing, left, current = not drawing, dash, [at]
        left -= length - done
        current.append((x1, y1))
    return [*found, current] if drawing and len(current) > 1 else found
