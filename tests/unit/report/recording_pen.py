"""A pen that paints nothing and keeps every stroke."""

from collections.abc import Sequence
from dataclasses import dataclass, field

from fieldapp.report.pens.pen import Line, Point, Type


@dataclass
class RecordingPen:
    """What was painted, in order, in millimetres."""

    strokes: list[tuple[list[Point], Line]] = field(default_factory=list)
    fills: list[tuple[list[Point], str]] = field(default_factory=list)
    discs: list[tuple[Point, float, str]] = field(default_factory=list)
    circles: list[tuple[Point, float, Line]] = field(default_factory=list)
    words: list[tuple[str, Point, Type]] = field(default_factory=list)

    def stroke(self, points: Sequence[Point], line: Line, *, closed: bool = False) -> None:
        self.strokes.append(([*points, *points[: 1 if closed else 0]], line))

    def fill(self, points: Sequence[Point], colour: str) -> None:
        self.fills.append((list(points), colour))

    def disc(self, centre: Point, radius_mm: float, colour: str) -> None:
        self.discs.append((centre, radius_mm, colour))

    def circle(self, centre: Point, radius_mm: float, line: Line) -> None:
        self.circles.append((centre, radius_mm, line))

    def write(self, text: str, at: Point, kind: Type) -> None:
        self.words.append((text, at, kind))
