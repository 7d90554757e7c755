"""What a painter must be able to do. Lengths are millimetres on the paper or the picture.

x runs to the right and y down from the upper left corner. A colour is a meaning of the
palette ("rework"), never a colour, so that a dark picture and a black-and-white print come
from the same strokes.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import cos, pi, sin
from typing import Literal, Protocol, TypeAlias

Point: TypeAlias = tuple[float, float]
Align = Literal["left", "middle", "right"]


@dataclass(frozen=True)
class Line:
    """How a line is drawn. `dash_mm` of 0 is a line without gaps."""

    colour: str
    width_mm: float
    dash_mm: float = 0.0
    gap_mm: float = 0.0


@dataclass(frozen=True)
class Type:
    """How a text is set."""

    size_pt: float
    bold: bool = False
    colour: str = "text"
    align: Align = "left"


class Pen(Protocol):
    """Paints on a page or a picture; nothing it has painted can be taken back."""

    def stroke(self, points: Sequence[Point], line: Line, *, closed: bool = False) -> None:
        """Draw a line with round ends and corners."""
        ...

    def fill(self, points: Sequence[Point], colour: str) -> None:
        """Fill a polygon."""
        ...

    def disc(self, centre: Point, radius_mm: float, colour: str) -> None:
        """Fill a circle."""
        ...

    def circle(self, centre: Point, radius_mm: float, line: Line) -> None:
        """Draw a circle's line."""
        ...

    def write(self, text: str, at: Point, kind: Type) -> None:
        """Write one line of text; `at` lies on its baseline, at the end that `align` names."""
        ...


def rounded_box(
    corner: Point, size: tuple[float, float], radius_mm: float, steps: int = 6
) -> list[Point]:
    """Give the outline of a box with round corners, from its upper left corner and its size."""
    (x, y), (wide, high) = corner, size
    radius = min(radius_mm, wide / 2, high / 2)
    centres = (
        (x + wide - radius, y + high - radius),
        (x + radius, y + high - radius),
        (x + radius, y + radius),
        (x + wide - radius, y + radius),
    )
    turns = [pi / 2 * step / steps for step in range(steps + 1)]
    return [
        (cx + radius * cos(pi / 2 * quarter + turn), cy + radius * sin(pi / 2 * quarter + turn))
        for quarter, (cx, cy) in enumerate(centres)
        for turn in turns
    ]


def box(corner: Point, size: tuple[float, float]) -> list[Point]:
    """Give the four corners of a box, from its upper left corner and its size."""
    (x, y), (wide, high) = corner, size
    return [(x, y), (x + wide, y), (x + wide, y + high), (x, y + high)]
