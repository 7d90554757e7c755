"""Paints the load map with any pen: outlines, hatching by step, and a figure under each bolt."""

from fieldapp.report.letters import width_mm
from fieldapp.report.load_hatching import HATCHES, Hatch, hatching
from fieldapp.report.paint.frame import DriveFrame
from fieldapp.report.pens.pen import Line, Pen, Point, Type, box
from fieldapp.report.shapes import LoadCell

HAIR_MM = 0.18
EDGE_MM = 0.25
FIGURE_PT = 7.5
FIGURE_MM = 2.9


def paint_cells(pen: Pen, frame: DriveFrame) -> None:
    """Hatch the ground of every bolt and draw its edge."""
    for cell in frame.drawing.cells:
        outline = [frame.at(x_m, s_m) for x_m, s_m in cell.places]
        paint_hatched(pen, outline, HATCHES[cell.step])
        pen.stroke(outline, Line("outline", EDGE_MM), closed=True)


def paint_hatched(pen: Pen, outline: list[Point], hatch: Hatch) -> None:
    """Hatch a polygon as a step is hatched."""
    for slant in hatch.slants:  # y runs down here
        for start, end in hatching(outline, hatch.apart_mm, -slant):
            pen.stroke([start, end], Line(hatch.colour, HAIR_MM))


def paint_figures(pen: Pen, frame: DriveFrame, mark_half_mm: float) -> None:
    """Write what each bolt carries under its mark, on bare ground."""
    for cell in frame.drawing.cells:
        if cell.figure:
            _figure(pen, frame.at(cell.x_m, cell.s_m), cell, mark_half_mm)


def _figure(pen: Pen, centre: Point, cell: LoadCell, mark_half_mm: float) -> None:
    x, top = centre[0], centre[1] + mark_half_mm + 0.2
    wide = width_mm(cell.figure, FIGURE_PT, bold=True) + 0.8
    pen.fill(box((x - wide / 2, top), (wide, FIGURE_MM)), "ground")
    kind = Type(FIGURE_PT, bold=True, align="middle")
    pen.write(cell.figure, (x, top + FIGURE_MM - 0.6), kind)
