"""Paints the mark of a verdict or a bolt with any pen."""

from dataclasses import dataclass
from math import cos, pi, sin

from fieldapp.report.marks import Disc, MarkShape, Piece, Polygon, Ring, Stroke
from fieldapp.report.pens.pen import Line, Pen, Point

_DRAWN_SHARE = 0.58
"""How much of a dashed ring is dash, as in the screen's pictures of marks."""


@dataclass(frozen=True)
class _Placed:
    """Where a mark's square from -1 to 1 lies on the page."""

    x_mm: float
    y_mm: float
    half_mm: float

    def at(self, point: Point) -> Point:
        return self.x_mm + point[0] * self.half_mm, self.y_mm - point[1] * self.half_mm


def paint_mark(pen: Pen, mark: MarkShape, centre: Point, half_mm: float, colour: str = "") -> None:
    """Paint a mark `half_mm` to either side of its centre. `colour` replaces its own meaning."""
    placed = _Placed(*centre, half_mm)
    for piece in mark.pieces:
        _paint(
            pen, piece, placed, "mark_ink" if piece.ink == "mark_ink" else colour or mark.colour
        )


def _paint(pen: Pen, piece: Piece, placed: _Placed, ink: str) -> None:
    half_mm = placed.half_mm
    match piece:
        case Disc(centre, radius):
            pen.disc(placed.at(centre), radius * half_mm, ink)
        case Ring(centre, radius, width, 0):
            pen.circle(placed.at(centre), radius * half_mm, Line(ink, width * half_mm))
        case Ring():
            for dash in _dashes(piece):
                pen.fill([placed.at(point) for point in dash], ink)
        case Polygon(points):
            pen.fill([placed.at(point) for point in points], ink)
        case Stroke(points, width, closed):
            line = Line(ink, width * half_mm)
            pen.stroke([placed.at(point) for point in points], line, closed=closed)


def _dashes(ring: Ring, steps: int = 4) -> list[list[Point]]:
    """Give the dashes as areas: lines with round ends would close the gaps."""
    turn = 2 * pi / ring.dashes
    outer, inner = ring.radius + ring.width / 2, ring.radius - ring.width / 2
    dashes = []
    for dash in range(ring.dashes):
        start = pi / 2 + turn * dash
        angles = [start + turn * _DRAWN_SHARE * step / steps for step in range(steps + 1)]
        edge = [(outer, angle) for angle in angles]
        edge += [(inner, angle) for angle in reversed(angles)]
        x, y = ring.centre
        dashes.append([(x + r * cos(angle), y + r * sin(angle)) for r, angle in edge])
    return dashes
