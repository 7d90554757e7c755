"""Everything on a round sheet that is not plainly accepted, the worst first."""

from assets.translate import _
from fieldapp.report.marks import VERDICT_MARKS
from fieldapp.report.paint.mark import paint_mark
from fieldapp.report.pens.pdf import PdfPen
from fieldapp.report.pens.pen import Line, Type
from fieldapp.report.round_sheet.blocks import (
    EDGE_MM,
    Block,
    Density,
    RoundSheet,
    nothing,
    titled,
    with_more,
)
from fieldapp.report.round_sheet.columns import in_two_columns
from fieldapp.report.set_text import broken, line_mm, set_line
from fieldapp.report.words.findings import limit, measured, places, told, verdict_words
from schemas.findings import Finding

MARK_MM = 6.5
COLUMNS_MM = (48.0, 33.0, 32.0)
"""Title and verdict; measured; limit. What is left is for place and reason."""
COLUMN_PAD_MM = 2.0
ROW_PAD_MM = 0.8

Cell = list[tuple[str, Type]]
"""Lines below each other, each in its own letters."""


def findings_table(sheet: RoundSheet, density: Density, shown: int | None = None) -> Block:
    """Give the findings; `shown` is how many where not all fit, and the rest is counted."""
    all_told = [finding for finding in sheet.assessment.findings if told(finding)]
    kept = all_told[:shown]
    if not all_told:
        return nothing()
    if not kept:
        return with_more(nothing(), f"{len(all_told)} NOT ACCEPTED, on the tablet")
    rows = (in_two_columns if density.in_two else _full)(sheet, density, kept)
    said = "± is one standard uncertainty" if any(it.uncertainty for it in kept) else ""
    more = len(all_told) - len(kept)
    words = f"and {more} more NOT ACCEPTED, on the tablet" if more else ""
    return with_more(titled("Findings, the worst first", rows, said), words)


def _full(sheet: RoundSheet, density: Density, kept: list[Finding]) -> Block:
    rows = [_cells(finding, density.size_pt, sheet.wide_mm) for finding in kept]
    heights = [_high_mm(cells, density.size_pt) for cells in rows]

    def paint(pen: PdfPen, top: float) -> None:
        for finding, cells, high in zip(kept, rows, heights, strict=True):
            pen.stroke([(EDGE_MM, top), (EDGE_MM + sheet.wide_mm, top)], Line("faint", 0.2))
            line = line_mm(density.size_pt)
            half = line * 0.62
            centre = (EDGE_MM + half, top + ROW_PAD_MM + line * 0.85)
            paint_mark(pen, VERDICT_MARKS[finding.verdict], centre, half)
            _paint_cells(pen, cells, top + ROW_PAD_MM, line)
            top += high

    return Block(sum(heights), paint)


def _cells(finding: Finding, size_pt: float, wide_mm: float) -> list[Cell]:
    strong, plain = Type(size_pt, bold=True), Type(size_pt)
    rooms = [room - COLUMN_PAD_MM for room in COLUMNS_MM]
    rest = wide_mm - MARK_MM - sum(COLUMNS_MM)
    quiet = Type(size_pt, colour="quiet")
    return [
        _set(_(finding.title), strong, rooms[0])
        + _set(_(verdict_words(finding)), plain, rooms[0]),
        _set(_(measured(finding)) or "—", strong, rooms[1]),
        _set(_(limit(finding)), plain, rooms[2]),
        _set(_(places(finding)), plain, rest) + _set(finding.because, quiet, rest),
    ]


def _set(text: str, kind: Type, room_mm: float) -> Cell:
    return [(line, kind) for line in broken(text, kind, room_mm)]


def _high_mm(cells: list[Cell], size_pt: float) -> float:
    return max(2, *(len(cell) for cell in cells)) * line_mm(size_pt) + 2 * ROW_PAD_MM


def _paint_cells(pen: PdfPen, cells: list[Cell], top: float, line: float) -> None:
    x = EDGE_MM + MARK_MM
    for cell, wide in zip(cells, (*COLUMNS_MM, 0.0), strict=True):
        for number, (text, kind) in enumerate(cell):
            set_line(pen, text, (x, top + number * line), kind)
        x += wide
