"""The unrolled drive as a panel: the picture at one scale, a scale bar and a legend."""

from dataclasses import dataclass

from assets.translate import _
from fieldapp.report.paint.drive import Painting, paint_drive
from fieldapp.report.paint.frame import DriveFrame, Margins, bar, framed, high_mm
from fieldapp.report.paint.legend import LEGEND_PT, legend_mm, paint_legend
from fieldapp.report.pens.pen import Line, Pen, Point, Type
from fieldapp.report.set_text import broken, line_mm, set_lines
from fieldapp.report.shapes import Drawing
from fieldapp.report.words.findings import BETWEEN

NOTES = Type(LEGEND_PT, colour="quiet")


@dataclass(frozen=True)
class DrivePanel:
    """A drawing laid into a room on the paper."""

    frame: DriveFrame
    margins: Margins
    corner: Point
    wide_mm: float

    @property
    def high_mm(self) -> float:
        """How high it is: picture, scale bar, legend and notes."""
        return high_mm(self.frame, self.margins) + _below_mm(self.frame.drawing, self.wide_mm)

    def paint(self, pen: Pen) -> None:
        """Paint it all."""
        drawing = self.frame.drawing
        paint_drive(Painting(pen, self.frame))
        x, top = self.corner[0], self.corner[1] + high_mm(self.frame, self.margins)
        _paint_bar(pen, self.frame, (x, top - 2.4))
        paint_legend(pen, drawing, (x, top), self.wide_mm)
        top += legend_mm(drawing, self.wide_mm)
        set_lines(pen, _notes(drawing, self.wide_mm), (x, top), NOTES)


def drive_panel(
    drawing: Drawing, corner: Point, room_mm: tuple[float, float], margins: Margins | None = None
) -> DrivePanel:
    """Lay a drawing into a room as large as it goes; the panel is as high as it needs."""
    kept = margins or Margins()
    room = (room_mm[0], room_mm[1] - _below_mm(drawing, room_mm[0]))
    return DrivePanel(framed(drawing, corner, room, kept), kept, corner, room_mm[0])


def _below_mm(drawing: Drawing, wide_mm: float) -> float:
    notes = len(_notes(drawing, wide_mm)) * line_mm(LEGEND_PT)
    return legend_mm(drawing, wide_mm) + notes


def _notes(drawing: Drawing, wide_mm: float) -> list[str]:
    return broken(BETWEEN.join(drawing.notes), NOTES, wide_mm) if drawing.notes else []


def _paint_bar(pen: Pen, frame: DriveFrame, corner: Point) -> None:
    length_m, said = bar(frame.mm_per_m, frame.drawing.units)
    x, y = corner
    half = length_m * frame.mm_per_m / 2
    line = Line("text", 0.3)
    pen.stroke([(x, y - 1.0), (x, y), (x + 2 * half, y), (x + 2 * half, y - 1.0)], line)
    pen.stroke([(x + half, y - 0.7), (x + half, y)], line)
    words = f"{said} · 1 : {frame.scale} both ways · looking toward the face"
    pen.write(_(words), (x + 2 * half + 2.0, y), NOTES)
