"""Turns the drawing of a drive into quads, in pixels from the ground's lower left corner.

Panning only moves what is painted here; another scale asks for painting again, because marks,
lines and letters keep their size on the glass.
"""

from dataclasses import dataclass

import numpy as np

from fieldapp.report.load_hatching import HATCHES, hatching
from fieldapp.report.shapes import (
    Band,
    Bolt,
    Circle,
    CrossLine,
    Drawing,
    FaceLine,
    LoadCell,
    MeshSheet,
    RowFrame,
    Span,
)
from fieldapp.ui.drive.strokes import Pixel, Quads, Strokes, circle_points
from fieldapp.ui.drive.view import View

MARK_M = 0.5
LEAST_MARK_MM, MOST_MARK_MM = 2.4, 4.8
"""A mark grows with the scale between these; it is never so large that neighbours touch."""


Centres = np.ndarray[tuple[int, int], np.dtype[np.float32]]


@dataclass(frozen=True)
class Scale:
    """A view whose ground starts at pixel 0, 0, and how many pixels make a millimetre of glass."""

    view: View
    px_per_mm: float

    def at(self, x_m: float, s_m: float) -> Pixel:
        """Give the pixel of a place."""
        return self.view.pixel(x_m, s_m)

    def mm(self, length: float) -> float:
        """Give millimetres of glass in pixels."""
        return length * self.px_per_mm

    @property
    def mark_px(self) -> int:
        """The side of a bolt's mark."""
        wanted = MARK_M * self.view.px_per_m
        return round(min(max(wanted, self.mm(LEAST_MARK_MM)), self.mm(MOST_MARK_MM)))


def paint_ground(drawing: Drawing, scale: Scale, strokes: Strokes) -> None:
    """Paint all that lies below the bolts."""
    _zones(drawing, scale, strokes)
    _areas(drawing, scale, strokes)
    for line in drawing.lines:
        _cross_line(line, scale, strokes)
    for row in drawing.rows:
        _row(row, scale, strokes)
    if drawing.face is not None:
        _face(drawing.face, scale, strokes)
    for bolt in drawing.bolts:
        _origin(bolt, scale, strokes)


def paint_over(drawing: Drawing, scale: Scale, strokes: Strokes) -> None:
    """Paint what lies above the bolts."""
    for circle in drawing.circles:
        _circle(circle, scale, strokes)
    for span in drawing.spans:
        _span(span, scale, strokes)


def _areas(drawing: Drawing, scale: Scale, strokes: Strokes) -> None:
    for cell in drawing.cells:
        _cell(cell, scale, strokes)
    for sheet in drawing.sheets:
        _sheet(sheet, scale, strokes)
    for band in drawing.bands:
        _band(band, scale, strokes)
    for outline in drawing.bare:
        points = [scale.at(*place) for place in outline]
        strokes.dashed(points, scale.mm(0.8), "rework", scale.mm(1.4))


def mark_centres(drawing: Drawing, scale: Scale) -> Centres:
    """Give the middle of every bolt's mark, on whole pixels so that marks stay sharp."""
    places = np.array([(bolt.s_m, bolt.x_m) for bolt in drawing.bolts], dtype=np.float64)
    ground = scale.view.ground
    corner = np.array([ground.s_from_m, ground.x_from_m])
    pixels = (places.reshape(-1, 2) - corner) * scale.view.px_per_m
    return np.rint(pixels).astype(np.float32)


def mark_quads(
    centres: Centres,
    cells: Centres,
    side_px: int,
    share: tuple[float, float],
) -> Quads:
    """Give a quad for every mark: its place on the glass and its cell in the atlas."""
    around = np.array([(0, 0), (1, 0), (1, 1), (0, 1)], dtype=np.float32)
    quads = np.empty((len(centres), 4, 4), dtype=np.float32)
    quads[:, :, :2] = centres[:, None, :] + np.float32(side_px) * around - np.float32(side_px // 2)
    quads[:, :, 2:] = cells[:, None, :] + np.array(share, dtype=np.float32) * around
    return quads


def _zones(drawing: Drawing, scale: Scale, strokes: Strokes) -> None:
    ground = scale.view.ground
    high = scale.at(ground.x_to_m, 0)[1]
    for zone in drawing.zones:
        left, right = (scale.at(0, s_m)[0] for s_m in (zone.s_from_m, zone.s_to_m))
        if "back" in zone.name:
            strokes.area((left, 0), (right - left, high), "key veil")
    for zone in drawing.zones[1:]:
        edge = round(scale.at(0, zone.s_from_m)[0])
        strokes.dashed([(edge, 0), (edge, high)], scale.mm(0.3), "faint", scale.mm(1.6))


def _sheet(sheet: MeshSheet, scale: Scale, strokes: Strokes) -> None:
    """Paint a sheet as wires; its outline is broken while it only lies as standard."""
    for start, end in sheet.wires:
        strokes.line([scale.at(*start), scale.at(*end)], scale.mm(0.2), "faint")
    corners = [scale.at(*place) for place in (*sheet.corners, sheet.corners[0])]
    if sheet.read:
        strokes.line(corners, scale.mm(0.4), "outline")
    else:
        strokes.dashed(corners, scale.mm(0.4), "outline", scale.mm(1.8))


def _band(band: Band, scale: Scale, strokes: Strokes) -> None:
    left, bottom = scale.at(band.x_from_m, band.s_from_m)
    right, top = scale.at(band.x_to_m, band.s_to_m)
    corner, size = (left, bottom), (right - left, top - bottom)
    if band.read:
        strokes.area(corner, size, f"{band.colour} veil")
        strokes.hatched(corner, size, scale.mm(1.8), scale.mm(0.3), band.colour)
        strokes.box(corner, size, scale.mm(0.3), band.colour)
        return
    for y in (bottom, top):
        strokes.dashed([(left, y), (right, y)], scale.mm(0.3), band.colour, scale.mm(1.2))


def _cell(cell: LoadCell, scale: Scale, strokes: Strokes) -> None:
    outline, hatch = [scale.at(x_m, s_m) for x_m, s_m in cell.places], HATCHES[cell.step]
    for slant in hatch.slants:
        lines = list(hatching(outline, scale.mm(hatch.apart_mm), slant))
        strokes.lines(lines, scale.mm(0.3), hatch.colour)
    strokes.line(outline, scale.mm(0.3), "outline", closed=True)


def figure_corners(drawing: Drawing, scale: Scale, sizes: list[Pixel]) -> list[Pixel | None]:
    """Give the lower left corner of each cell's figure, which stands where its bolt is.

    None where it would reach into the next row: a larger scale has room for it.
    """
    corners: list[Pixel | None] = []
    for cell, (wide, high) in zip(drawing.cells, sizes, strict=True):
        along = [scale.at(x_m, s_m)[1] for x_m, s_m in cell.places]
        x, y = scale.at(cell.x_m, cell.s_m)
        fits = bool(cell.figure) and max(along) - min(along) >= high
        corners.append((x - wide / 2, y - high / 2) if fits else None)
    return corners


def _cross_line(line: CrossLine, scale: Scale, strokes: Strokes) -> None:
    ground = scale.view.ground
    left, y = scale.at(line.x_m, ground.s_from_m)
    right, _ = scale.at(line.x_m, ground.s_to_m)
    if line.kind == "joint":
        strokes.dashed([(left, y), (right, y)], scale.mm(0.35), "outline", scale.mm(2.4))
    elif line.kind == "last row":
        strokes.line([(left, y), (right, y)], scale.mm(0.3), "quiet")
    elif line.kind == "ground changes":
        strokes.dashed([(left, y), (right, y)], scale.mm(0.6), "measures", scale.mm(5))
    else:
        strokes.line([(left, y), (right, y)], scale.mm(0.8), "lamp")


def _row(row: RowFrame, scale: Scale, strokes: Strokes) -> None:
    if not row.selected:
        return
    reach = scale.mark_px / 2 + scale.mm(1.4)
    left, y = scale.at(row.x_m, row.s_from_m)
    right, _ = scale.at(row.x_m, row.s_to_m)
    corner, size = (left - reach, y - reach), (right - left + 2 * reach, 2 * reach)
    strokes.area(corner, size, "key veil")
    strokes.box(corner, size, scale.mm(0.6), "lamp", scale.mm(1.8))


def _face(face: FaceLine, scale: Scale, strokes: Strokes) -> None:
    points = [scale.at(x_m, s_m) for x_m, s_m in face.places]
    if face.read:
        strokes.line(points, scale.mm(0.7), "text")
    else:
        strokes.dashed(points, scale.mm(0.5), "quiet", scale.mm(2))


def _origin(bolt: Bolt, scale: Scale, strokes: Strokes) -> None:
    """Show where a bolt belongs, or the hole that it was put in beside."""
    if bolt.off_from is None:
        return
    x, y = scale.at(*bolt.off_from)
    strokes.line([(x, y), scale.at(bolt.x_m, bolt.s_m)], scale.mm(0.3), "quiet")
    arm = scale.mm(0.9) if bolt.beside else 0.0
    strokes.line([(x - arm, y - arm), (x + arm, y + arm)], scale.mm(0.4), "quiet")
    strokes.line([(x - arm, y + arm), (x + arm, y - arm)], scale.mm(0.4), "quiet")


def _circle(circle: Circle, scale: Scale, strokes: Strokes) -> None:
    radius = circle.diameter_m / 2 * scale.view.px_per_m
    points = circle_points(scale.at(circle.x_m, circle.s_m), radius)
    if circle.of == "plated":
        strokes.dashed(points, scale.mm(0.5), circle.colour, scale.mm(1.8))
    else:
        strokes.line(points, scale.mm(0.5), circle.colour)


def _span(span: Span, scale: Scale, strokes: Strokes) -> None:
    (x, low), (_, high) = scale.at(span.x_from_m, span.s_m), scale.at(span.x_to_m, span.s_m)
    low, high = min(low, high), max(low, high)
    head, width = min(scale.mm(1.3), (high - low) / 3), scale.mm(0.45)
    strokes.line([(x, low), (x, high)], width, span.colour)
    for end, inward in ((low, head), (high, -head)):
        barb = end + inward
        strokes.line(
            [(x - head * 0.7, barb), (x, end), (x + head * 0.7, barb)], width, span.colour
        )
