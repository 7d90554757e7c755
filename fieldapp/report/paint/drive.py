"""Paints the unrolled drive with any pen: ground first, then lines, bolts, and tags last."""

from collections.abc import Iterator
from dataclasses import dataclass

from assets.translate import _
from fieldapp.report.letters import width_mm
from fieldapp.report.marks import BOLT_MARKS
from fieldapp.report.paint.frame import DriveFrame
from fieldapp.report.paint.loads import paint_cells, paint_figures
from fieldapp.report.paint.mark import paint_mark
from fieldapp.report.paint.tags import paint_tags
from fieldapp.report.pens.pen import Line, Pen, Point, Type, box, rounded_box
from fieldapp.report.shapes import (
    Band,
    Bolt,
    Circle,
    CrossLine,
    Drawing,
    FaceLine,
    MeshSheet,
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
BARE_MM = 0.35
GAP_DASH_MM = 2.2


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
    _ground(on)
    paint_cells(on.pen, on.frame)
    _below_the_bolts(on)
    for bolt in on.drawing.bolts:
        _bare_ground(on, bolt, BARE_MM)
    for circle in on.drawing.circles:
        _circle(on, circle)
    for bolt in on.drawing.bolts:
        _bare_ground(on, bolt, 0.0)
        _bolt(on, bolt)
    paint_figures(on.pen, on.frame, on.mark_half_mm)
    for span in on.drawing.spans:
        _span(on, span)
    paint_tags(on.pen, on.frame, on.mark_half_mm)


def _below_the_bolts(on: Painting) -> None:
    for sheet in on.drawing.sheets:
        _sheet(on, sheet)
    for outline in on.drawing.bare:
        on.pen.stroke([on.frame.at(*place) for place in outline], _BARE, closed=True)
    for band in on.drawing.bands:
        _band(on, band)
    for row in on.drawing.rows:
        _row(on, row)
    _row_labels(on)
    _ticks(on)
    for line in on.drawing.lines:
        _cross_line(on, line)
    _name_lines(on)
    if on.drawing.face:
        _face(on, on.drawing.face)


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
    names = (_(zone.name), _(zone.name.split()[-1]), "")
    return next(name for name in names if width_mm(name, SMALL_PT) + 1.0 <= room_mm or not name)


_BARE = Line("rework", 0.6, dash_mm=1.0, gap_mm=0.8)


def _sheet(on: Painting, sheet: MeshSheet) -> None:
    """Paint a sheet as wires; its outline is broken while it only lies as standard."""
    for start, end in sheet.wires:
        on.pen.stroke([on.frame.at(*start), on.frame.at(*end)], Line("faint", HAIR_MM))
    outline = [on.frame.at(*place) for place in sheet.corners]
    dash_mm = 0.0 if sheet.read else 1.6
    on.pen.stroke(outline, Line("outline", 0.3, dash_mm=dash_mm, gap_mm=1.2), closed=True)


def _band(on: Painting, band: Band) -> None:
    frame = on.frame
    corner = (frame.across(band.s_from_m), frame.up(band.x_to_m))
    size = (frame.across(band.s_to_m) - corner[0], frame.up(band.x_from_m) - corner[1])
    if band.read:
        paint_hatching(on.pen, corner, size, band.colour)
    else:
        line = Line(band.colour, HAIR_MM, dash_mm=1.2, gap_mm=1.2)
        on.pen.stroke(box(corner, size), line, closed=True)


def paint_hatching(pen: Pen, corner: Point, size: tuple[float, float], colour: str) -> None:
    """Paint a hatched strip with its outline."""
    (left, top), (wide, high) = corner, size
    for start, end in _hatching(left, left + wide, top, top + high):
        pen.stroke([start, end], Line(colour, HAIR_MM))
    pen.stroke(box(corner, size), Line(colour, HAIR_MM), closed=True)


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
    if not row.selected:
        return
    frame, y = on.frame, on.frame.up(row.x_m)
    left, reach = frame.across(row.s_from_m), on.mark_half_mm + 1.4
    wide = frame.across(row.s_to_m) - left
    outline = rounded_box((left - reach, y - reach), (wide + 2 * reach, 2 * reach), 1.6)
    on.pen.stroke(outline, Line("lamp", 0.6), closed=True)


def _row_labels(on: Painting) -> None:
    """Write the rows' numbers and the face; one too near another gives way."""
    strong = Type(SMALL_PT, bold=True, align="right")
    face = on.drawing.face
    end = _("old") if face and face.over_old else _("face")
    labels = [(on.frame.up(face.places[0][0]), end, strong)] if face else []
    for row in on.drawing.rows:
        colour = "lamp" if row.selected else "quiet" if row.old else "text"
        kind = Type(LABEL_PT, bold=not row.old, colour=colour, align="right")
        labels.append((on.frame.up(row.x_m), _(row.label), kind))
    for y, words, kind in _apart(labels):
        on.pen.write(words, (on.frame.left_mm - 3.6, y + kind.size_pt * 0.125), kind)


def _apart(labels: list[tuple[float, str, Type]]) -> Iterator[tuple[float, str, Type]]:
    taken: list[float] = []
    for label in labels:
        if all(abs(label[0] - other) >= LINE_MM for other in taken):
            taken.append(label[0])
            yield label


def _ticks(on: Painting) -> None:
    right, quiet = on.frame.right_mm, Type(SMALL_PT, colour="quiet")
    ticks = [(on.frame.up(tick.x_m), tick.text, quiet) for tick in on.drawing.ticks]
    for y, words, kind in _apart(ticks):
        on.pen.stroke([(right, y), (right + TICK_MM, y)], Line("outline", HAIR_MM))
        on.pen.write(words, (right + TICK_MM + 1.0, y + 0.95), kind)


_CROSS_LINES = {
    "joint": Line("outline", 0.25, dash_mm=3.0, gap_mm=1.2),
    "last row": Line("text", 0.25),
    "entry line": Line("lamp", 0.75),
    "ground changes": Line("measures", 0.5, dash_mm=5.0, gap_mm=1.0),
}
_NAMED_FIRST = ("entry line", "ground changes", "last row", "joint")


def _cross_line(on: Painting, line: CrossLine) -> None:
    frame, y = on.frame, on.frame.up(line.x_m)
    reach = 3.0 if line.kind == "entry line" else 0.0
    on.pen.stroke([(frame.left_mm - reach, y), (frame.right_mm, y)], _CROSS_LINES[line.kind])


def _name_lines(on: Painting) -> None:
    """Name each line under the chainage written there, where nothing else stands."""
    ticks = [on.frame.up(tick.x_m) for tick in on.drawing.ticks]
    named: list[float] = []
    for line in sorted(on.drawing.lines, key=lambda it: _NAMED_FIRST.index(it.kind)):
        y = on.frame.up(line.x_m)
        below = y + (LINE_MM if any(abs(other - y) < LINE_MM for other in ticks) else 0.0)
        is_entry = line.kind == "entry line"
        kind = Type(SMALLEST_PT, bold=is_entry, colour="lamp" if is_entry else "quiet")
        # The entry line is never left with the number of a row: that one may lie beyond it.
        for words in filter(None, (line.text, _(line.kind))):
            if all(abs(other - below) >= LINE_MM - 0.01 for other in (*ticks, *named)):
                place = (on.frame.right_mm + TICK_MM + 1.0, below + 0.95)
                on.pen.write(words, place, kind)
                named.append(below)
                below += LINE_MM


def _face(on: Painting, face: FaceLine) -> None:
    points = [on.frame.at(x_m, s_m) for x_m, s_m in face.places]
    dash_mm = 0.0 if face.read else 2.0
    on.pen.stroke(points, Line("text" if face.read else "quiet", 0.6, dash_mm=dash_mm, gap_mm=2.0))


def _circle(on: Painting, circle: Circle) -> None:
    radius_mm = circle.diameter_m / 2 * on.frame.mm_per_m
    dash_mm = GAP_DASH_MM if circle.of == "plated" else 0.0
    line = Line(circle.colour, 0.45, dash_mm=dash_mm, gap_mm=1.6)
    on.pen.circle(on.frame.at(circle.x_m, circle.s_m), radius_mm, line)


def _bare_ground(on: Painting, bolt: Bolt, beyond_mm: float) -> None:
    """Lay the ground bare under a mark: hatching and lines never run through it."""
    x, y = on.frame.at(bolt.x_m, bolt.s_m)
    half = on.mark_half_mm + beyond_mm
    on.pen.fill(box((x - half, y - half), (2 * half, 2 * half)), "ground")


def _bolt(on: Painting, bolt: Bolt) -> None:
    if bolt.off_from is not None:
        _origin(on, bolt, on.frame.at(*bolt.off_from))
    colour = "quiet" if bolt.old and bolt.state in ("seated", "assumed") else ""
    centre = on.frame.at(bolt.x_m, bolt.s_m)
    paint_mark(on.pen, BOLT_MARKS[bolt.state], centre, on.mark_half_mm, colour)


def _origin(on: Painting, bolt: Bolt, origin: Point) -> None:
    """Show where a bolt belongs, or the hole that it was put in beside."""
    x, y = origin
    end_x, end_y = on.frame.at(bolt.x_m, bolt.s_m)
    edge = on.mark_half_mm if end_x > x else -on.mark_half_mm
    if abs(end_x - x) > on.mark_half_mm:
        on.pen.stroke([origin, (end_x - edge, end_y)], Line("quiet", 0.25))
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
