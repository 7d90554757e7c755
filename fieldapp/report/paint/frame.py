"""Where the unrolled drive lies on the paper: one scale in both directions, and its margins."""

from dataclasses import dataclass
from itertools import pairwise

from fieldapp.report.pens.pen import Point
from fieldapp.report.shapes import Drawing
from fieldapp.report.words.lengths import FOOT_M, Units

SCALES = (25, 30, 40, 50, 60, 75, 100, 125, 150, 200, 250, 300, 400, 500, 1000)
"""Scales that a person can lay a ruler on: 1 m of rock is 1000/scale millimetres."""


BARS: dict[Units, tuple[int, ...]] = {
    "metres": (5, 2, 1),
    "feet and inches": (20, 10, 5, 2),
}


@dataclass(frozen=True)
class Margins:
    """Room around the ground for row numbers, chainages, and names of zones."""

    left_mm: float = 13.0
    right_mm: float = 19.0
    top_mm: float = 6.0
    bottom_mm: float = 6.5


@dataclass(frozen=True)
class DriveFrame:
    """The ground's upper left corner on the paper, and how long a metre is there."""

    drawing: Drawing
    left_mm: float
    top_mm: float
    mm_per_m: float

    def at(self, x_m: float, s_m: float) -> Point:
        """Give the point on the paper: the face is above, the left wall on the left."""
        return self.across(s_m), self.up(x_m)

    def across(self, s_m: float) -> float:
        """Give the distance from the left edge of the paper."""
        return self.left_mm + (s_m - self.drawing.s_from_m) * self.mm_per_m

    def up(self, x_m: float) -> float:
        """Give the distance from the upper edge of the paper."""
        return self.top_mm + (self.drawing.x_to_m - x_m) * self.mm_per_m

    @property
    def right_mm(self) -> float:
        """The ground's right edge on the paper."""
        return self.across(self.drawing.s_to_m)

    @property
    def bottom_mm(self) -> float:
        """The ground's lower edge on the paper."""
        return self.up(self.drawing.x_from_m)

    @property
    def closest_mm(self) -> float:
        """How near two neighbouring bolts of one row come on the paper; 99 with fewer."""
        by_row: dict[float, list[float]] = {}
        for bolt in self.drawing.bolts:
            by_row.setdefault(bolt.x_m, []).append(bolt.s_m)
        apart_m = [b - a for row in by_row.values() for a, b in pairwise(sorted(row))]
        return min(apart_m, default=99.0) * self.mm_per_m

    @property
    def scale(self) -> int:
        """The scale: 75 where 1 m is 1000/75 mm."""
        return round(1000 / self.mm_per_m)


def largest_scale(drawing: Drawing, room_mm: tuple[float, float], margins: Margins) -> int:
    """Give the largest of the scales at which the drawing fits the room, margins and all."""
    wide_mm = room_mm[0] - margins.left_mm - margins.right_mm
    high_mm = room_mm[1] - margins.top_mm - margins.bottom_mm
    return next((scale for scale in SCALES if _fits(drawing, scale, wide_mm, high_mm)), SCALES[-1])


def framed(
    drawing: Drawing, corner: Point, room_mm: tuple[float, float], margins: Margins
) -> DriveFrame:
    """Lay a drawing into a room, as large as it goes, in the middle of its width."""
    mm_per_m = 1000 / largest_scale(drawing, room_mm, margins)
    wide_mm = (drawing.s_to_m - drawing.s_from_m) * mm_per_m
    spare_mm = room_mm[0] - margins.left_mm - margins.right_mm - wide_mm
    return DriveFrame(
        drawing=drawing,
        left_mm=corner[0] + margins.left_mm + max(0.0, spare_mm / 2),
        top_mm=corner[1] + margins.top_mm,
        mm_per_m=mm_per_m,
    )


def high_mm(frame: DriveFrame, margins: Margins) -> float:
    """Say how high the picture is with its margins."""
    return margins.top_mm + (frame.bottom_mm - frame.top_mm) + margins.bottom_mm


def bar(mm_per_m: float, units: Units, at_most_mm: float = 45.0) -> tuple[float, str]:
    """Give the ground that the scale bar shows, in metres and in words: 5 m, 2 m, 20 ft …."""
    unit, one_m = ("m", 1.0) if units == "metres" else ("ft", float(FOOT_M))
    lengths = BARS[units]
    fitting = (it for it in lengths if it * one_m * mm_per_m <= at_most_mm)
    length = next(fitting, lengths[-1])
    return length * one_m, f"{length} {unit}"


def _fits(drawing: Drawing, scale: int, wide_mm: float, high_mm: float) -> bool:
    across_mm = (drawing.s_to_m - drawing.s_from_m) * 1000 / scale
    along_mm = (drawing.x_to_m - drawing.x_from_m) * 1000 / scale
    return across_mm <= wide_mm and along_mm <= high_mm
