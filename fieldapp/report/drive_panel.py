"""The unrolled drive as a panel: the picture at one scale, a scale bar and a legend."""

from dataclasses import dataclass

from fieldapp.report.drive_frame import DriveFrame, Margins, bar_m, framed, high_mm
from fieldapp.report.letters import width_mm
from fieldapp.report.marks import BOLT_MARKS
from fieldapp.report.paint_drive import MARK_HALF_MM, Painting, paint_drive
from fieldapp.report.paint_mark import paint_mark
from fieldapp.report.pen import Line, Pen, Point, Type
from fieldapp.report.set_text import broken, line_mm, set_lines
from fieldapp.report.shapes import BoltState, Drawing

LEGEND_PT = 7.0
LEGEND_MM = 4.4
_LEGEND: tuple[tuple[BoltState, str], ...] = (
    ("seated", "seen, plate seated"),
    ("assumed", "counted, position assumed"),
    ("loose", "plate loose"),
    ("not counting", "there, doesn't count"),
    ("missing", "missing"),
    ("not looked at", "not looked at"),
)


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
        return high_mm(self.frame, self.margins) + LEGEND_MM + self._notes_mm

    @property
    def _notes_mm(self) -> float:
        return len(self._notes) * line_mm(LEGEND_PT)

    @property
    def _notes(self) -> list[str]:
        drawn = self.frame.drawing.notes
        return broken(" · ".join(drawn), Type(LEGEND_PT), self.wide_mm) if drawn else []

    def paint(self, pen: Pen) -> None:
        """Paint it all."""
        paint_drive(Painting(pen, self.frame))
        top = self.corner[1] + high_mm(self.frame, self.margins)
        _paint_bar(pen, self.frame, (self.corner[0], top - 2.4))
        _paint_legend(pen, self.frame, (self.corner[0], top), self.wide_mm)
        kind = Type(LEGEND_PT, colour="quiet")
        set_lines(pen, self._notes, (self.corner[0], top + LEGEND_MM), kind)


def drive_panel(
    drawing: Drawing, corner: Point, room_mm: tuple[float, float], margins: Margins | None = None
) -> DrivePanel:
    """Lay a drawing into a room as large as it goes; the panel is as high as it needs."""
    kept = margins or Margins()
    notes_mm = line_mm(LEGEND_PT) * len(drawing.notes)
    room = (room_mm[0], room_mm[1] - LEGEND_MM - notes_mm)
    return DrivePanel(framed(drawing, corner, room, kept), kept, corner, room_mm[0])


def _paint_bar(pen: Pen, frame: DriveFrame, corner: Point) -> None:
    length_m = bar_m(frame.mm_per_m)
    x, y = corner
    half = length_m * frame.mm_per_m / 2
    line = Line("text", 0.3)
    pen.stroke([(x, y - 1.0), (x, y), (x + 2 * half, y), (x + 2 * half, y - 1.0)], line)
    pen.stroke([(x + half, y - 0.7), (x + half, y)], line)
    words = f"{length_m:.0f} m · 1 : {frame.scale} in both directions · looking toward the face"
    pen.write(words, (x + 2 * half + 2.0, y), Type(LEGEND_PT, colour="quiet"))


def _paint_legend(pen: Pen, frame: DriveFrame, corner: Point, wide_mm: float) -> None:
    x, y = corner[0], corner[1] + LEGEND_MM / 2
    used = {bolt.state for bolt in frame.drawing.bolts}
    words = [(state, said) for state, said in _LEGEND if state in used]
    room = sum(width_mm(said, LEGEND_PT) + 2 * MARK_HALF_MM + 1.2 for _, said in words)
    apart = min(6.0, (wide_mm - room) / max(1, len(words) - 1))
    half = MARK_HALF_MM * 0.85
    for state, said in words:
        paint_mark(pen, BOLT_MARKS[state], (x + half, y), half)
        pen.write(said, (x + 2 * half + 1.2, y + 0.9), Type(LEGEND_PT))
        x += width_mm(said, LEGEND_PT) + 2 * half + 1.2 + apart
