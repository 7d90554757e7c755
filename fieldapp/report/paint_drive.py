"""Paints the unrolled drive with any pen: ground first, then lines, bolts, and tags last."""

from collections.abc import Iterator
from dataclasses import dataclass

from fieldapp.report.drive_frame import DriveFrame
from fieldapp.report.letters import width_mm
from fieldapp.report.marks import BOLT_MARKS
from fieldapp.report.paint_mark import paint_mark
from fieldapp.report.paint_tags import paint_tags
from fieldapp.report.pen import Line, Pen, Point, Type, box, rounded_box
from fieldapp.report.shapes import (
    Band,
    Bolt,
    Circle,
    CrossLine,
    Drawing,
    FaceLine,
    RowFrame,
    Span,
    ZoneBand,
)

MARK_HALF_MM = 1.55
SMALL_PT = 7.5
SMALLEST_PT = 7.0
LINE_MM = 3.2
LABEL_PT = 9.0
HAIR_MM = 0.18
HATCH_MM = 1.25
TICK_MM = 1.6


@dataclass(frozen=True)
class Painting:
    """A pen on a frame."""

    pen: Pen
    frame: DriveFrame

    @property
    def mark_half_mm(self) -> float:
        """Half the side of a bolt's mark: smaller where bolts come close."""
        return min(MARK_HALF_MM, 0.36 * self.frame.closest_mm)

    @property
    def drawing(self) -> Drawing:
        """What is painted."""
        return self.frame.drawing


def paint_drive(on: Painting) -> None:
    """Paint the drawing in its frame. What comes later lies above what came before."""
    drawing = on.drawing
    _ground(on)
    for band in drawing.bands:
        _band(on, band)
    for row in drawing.rows:
        _row(on, row)
    _ticks(on)
    for line in drawing.lines:
        _cross_line(on, line)
    if drawing.face:
        _face(on, drawing.face)
    for bolt in drawing.bolts:
        _bare_ground(on, bolt)
    for circle in drawing.circles:
        _circle(on, circle)
    for bolt in drawing.bolts:
        _bolt(on, bolt)
    for span in drawing.spans:
        _span(on, span)
    paint_tags(on.pen, on.frame, on.mark_half_mm)


def _ground(on: Painting) -> None:
    frame, drawing = on.frame, on.drawing
    for zone in drawing.zones:
        middle = frame.across((zone.s_from_m + zone.s_to_m) / 2)
        name = _name_within(zone, (zone.s_to_m - zone.s_from_m) * frame.mm_per_m)
        kind = Type(SMALL_PT, colour="quiet", align="middle")
        on.pen.write(name, (middle, frame.top_mm - 2.2), kind)
    for zone in drawing.zones[1:]:
        edge = frame.across(zone.s_from_m)
        on.pen.stroke(
            [(edge, frame.top_mm - 1.0), (edge, frame.bottom_mm)],
            Line("faint", HAIR_MM, dash_mm=1.6, gap_mm=1.2),
        )


def _name_within(zone: ZoneBand, room_mm: float) -> str:
    """Shorten "left shoulder" to "shoulder" where the zone is narrow, or leave it out."""
    names = (zone.name, zone.name.split()[-1], "")
    return next(name for name in names if width_mm(name, SMALL_PT) + 1.0 <= room_mm or not name)


def _band(on: Painting, band: Band) -> None:
    frame = on.frame
    left, right = frame.across(band.s_from_m), frame.across(band.s_to_m)
    top, bottom = frame.up(band.x_to_m), frame.up(band.x_from_m)
    for start, end in _hatching(left, right, top, bottom) if band.read else ():
        on.pen.stroke([start, end], Line(band.colour, HAIR_MM))
    dash_mm = 0.0 if band.read else 1.2
    on.pen.stroke(
        box((left, top), (right - left, bottom - top)),
        Line(band.colour, HAIR_MM, dash_mm=dash_mm, gap_mm=1.2),
        closed=True,
    )


def _hatching(
    left: float, right: float, top: float, bottom: float
) -> Iterator[tuple[tuple[float, float], tuple[float, float]]]:
    high = bottom - top
    at = left - high + HATCH_MM
    while at < right:
        # From (at, bottom) up to the right at 45°, cut off at both ends of the band.
        start, end = max(at, left), min(at + high, right)
        yield (start, bottom - (start - at)), (end, bottom - (end - at))
        at += HATCH_MM


def _row(on: Painting, row: RowFrame) -> None:
    frame = on.frame
    y = frame.up(row.x_m)
    colour = "lamp" if row.selected else "quiet" if row.old else "text"
    label = Type(LABEL_PT, bold=not row.old, colour=colour, align="right")
    on.pen.write(row.label, (frame.left_mm - 3.6, y + 1.1), label)
    if row.selected:
        left, reach = frame.across(row.s_from_m), on.mark_half_mm + 1.4
        wide = frame.across(row.s_to_m) - left
        outline = rounded_box((left - reach, y - reach), (wide + 2 * reach, 2 * reach), 1.6)
        on.pen.stroke(outline, Line("lamp", 0.6), closed=True)


def _ticks(on: Painting) -> None:
    right = on.frame.right_mm
    for tick in on.drawing.ticks:
        y = on.frame.up(tick.x_m)
        on.pen.stroke([(right, y), (right + TICK_MM, y)], Line("outline", HAIR_MM))
        place = (right + TICK_MM + 1.0, y + 0.95)
        on.pen.write(tick.text, place, Type(SMALL_PT, colour="quiet"))


_CROSS_LINES = {
    "joint": Line("outline", 0.25, dash_mm=3.0, gap_mm=1.2),
    "last row": Line("text", 0.25),
    "entry line": Line("lamp", 0.9),
}


def _cross_line(on: Painting, line: CrossLine) -> None:
    frame, y = on.frame, on.frame.up(line.x_m)
    reach = 3.0 if line.kind == "entry line" else 0.0
    on.pen.stroke([(frame.left_mm - reach, y), (frame.right_mm, y)], _CROSS_LINES[line.kind])
    if line.kind == "entry line":
        place = (frame.right_mm + TICK_MM + 1.0, y + _below_tick_mm(on, line.x_m))
        on.pen.write("entry line", place, Type(SMALLEST_PT, bold=True, colour="lamp"))


def _below_tick_mm(on: Painting, x_m: float) -> float:
    """Say how far below the line its name stands: under a chainage that is written there."""
    near = any(abs(tick.x_m - x_m) * on.frame.mm_per_m < LINE_MM for tick in on.drawing.ticks)
    return 0.95 + (LINE_MM if near else 0.0)


def _face(on: Painting, face: FaceLine) -> None:
    points = [on.frame.at(x_m, s_m) for x_m, s_m in face.places]
    dash_mm = 0.0 if face.read else 2.0
    on.pen.stroke(points, Line("text" if face.read else "quiet", 0.6, dash_mm=dash_mm, gap_mm=2.0))
    label = Type(SMALL_PT, bold=True, align="right")
    on.pen.write("face", (on.frame.left_mm - 3.6, points[0][1] + 0.95), label)


def _circle(on: Painting, circle: Circle) -> None:
    radius_mm = circle.diameter_m / 2 * on.frame.mm_per_m
    dash_mm = 2.2 if circle.of == "plated" else 0.0
    line = Line(circle.colour, 0.45, dash_mm=dash_mm, gap_mm=1.6)
    on.pen.circle(on.frame.at(circle.x_m, circle.s_m), radius_mm, line)


def _bare_ground(on: Painting, bolt: Bolt) -> None:
    """Lay the ground bare under a mark: hatching and lines never run through it."""
    x, y = on.frame.at(bolt.x_m, bolt.s_m)
    if bolt.off_from is not None:
        _origin(on, bolt, on.frame.at(*bolt.off_from))
    half = on.mark_half_mm + 0.35
    on.pen.fill(box((x - half, y - half), (2 * half, 2 * half)), "ground")


def _bolt(on: Painting, bolt: Bolt) -> None:
    colour = "quiet" if bolt.old and bolt.state in ("seated", "assumed") else ""
    centre = on.frame.at(bolt.x_m, bolt.s_m)
    paint_mark(on.pen, BOLT_MARKS[bolt.state], centre, on.mark_half_mm, colour)


def _origin(on: Painting, bolt: Bolt, origin: Point) -> None:
    """Show where a bolt belongs, or the hole that it was put in beside."""
    x, y = origin
    on.pen.stroke([origin, on.frame.at(bolt.x_m, bolt.s_m)], Line("quiet", 0.25))
    for slope in (-0.8, 0.8) if bolt.beside else ():
        on.pen.stroke([(x - 0.8, y - slope), (x + 0.8, y + slope)], Line("quiet", 0.3))


def _span(on: Painting, span: Span) -> None:
    (x, low), (_, high) = on.frame.at(span.x_from_m, span.s_m), on.frame.at(span.x_to_m, span.s_m)
    line = Line(span.colour, 0.35)
    on.pen.stroke([(x, low), (x, high)], line)
    head = min(1.2, (low - high) / 3)
    for end, toward in ((low, -1), (high, 1)):
        barb = end + toward * head
        on.pen.stroke([(x - head * 0.6, barb), (x, end), (x + head * 0.6, barb)], line)
