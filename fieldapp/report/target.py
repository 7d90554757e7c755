"""The printed target: four corner marks of known distance, to be held where a photo is measured.

For what has no mesh and no plate in sight, and for chain link, whose openings tell no size.
"""

from datetime import datetime
from math import cos, pi, sin
from typing import Final

from assets.translate import _
from fieldapp.report.colours import PAPER
from fieldapp.report.pens.pdf import A4, Paper, PdfPen
from fieldapp.report.pens.pen import Line, Pen, Point, Type
from fieldapp.report.set_text import set_paragraph
from fieldapp.work.photo.frames_known import TARGET_MM

MARK_MM: Final = 14.0
"""Radius of a corner mark: seen from 4 m on a photo of 12 megapixels."""
_QUARTER: Final = 16
_TITLE, _TEXT = Type(20.0, bold=True, align="middle"), Type(12.0)
HOW: Final = (
    _("Print it at 100 %, never \"fit to page\". Then tape from mark to mark: {across} mm across, "
      "{along} mm along. If it is anything else, it measures nothing."),
    _("Glue it on something stiff. A target that bends tells a wrong size."),
    _("Stay under supported ground. Hold it, on a pole if need be, flat in the plane of what is "
      "measured: on the sheet of mesh itself, not in front of it."),
    _("Take the photo from straight before it, near enough that the target fills a third of it, "
      "with all four marks in sight."),
    _("On the tablet: Measure, Frame, Printed target. Tap the middle of each mark: upper left, "
      "upper right, lower right, lower left, as these words stand."),
)  # fmt: skip


def target_pdf(printed_at: datetime, paper: Paper = A4) -> bytes:
    """Give one page with the target on it. [mm]."""
    with PdfPen(paper, PAPER, _("Target to measure a photo by"), printed_at) as pen:
        across, along = map(float, TARGET_MM)
        left, top = (paper.wide_mm - across) / 2, (paper.high_mm - along) / 2
        for corner in target_corners(paper):
            _mark(pen, corner)
        middle, room = paper.wide_mm / 2, across - 2 * MARK_MM
        pen.write(_("Target to measure a photo by"), (middle, top + 45), _TITLE)
        y = top + 60
        for said in HOW:
            words = said.format(across=f"{across:.0f}", along=f"{along:.0f}")
            y += set_paragraph(pen, words, (left + MARK_MM, y), _TEXT, room) + 5
        return pen.output()


def target_corners(paper: Paper) -> tuple[Point, ...]:
    """Give the middles of the marks: upper left, upper right, lower right, lower left. [mm]."""
    across, along = map(float, TARGET_MM)
    left, top = (paper.wide_mm - across) / 2, (paper.high_mm - along) / 2
    right, low = left + across, top + along
    return (left, top), (right, top), (right, low), (left, low)


def _mark(pen: Pen, centre: Point) -> None:
    """Draw two black quarters that meet in the middle, in a ring."""
    for start in (0.0, pi):
        turns = [start + pi / 2 * step / _QUARTER for step in range(_QUARTER + 1)]
        rim = [(centre[0] + MARK_MM * cos(t), centre[1] + MARK_MM * sin(t)) for t in turns]
        pen.fill([centre, *rim], "text")
    pen.circle(centre, MARK_MM, Line("text", 0.6))
