"""The accepted findings on a round sheet: in brief, as a list or as a paragraph."""

from collections.abc import Iterator

from assets.translate import _
from fieldapp.report.letters import MM_PER_POINT, cut, width_mm
from fieldapp.report.marks import VERDICT_MARKS
from fieldapp.report.paint.mark import paint_mark
from fieldapp.report.pens.pdf import PdfPen
from fieldapp.report.pens.pen import Point, Type
from fieldapp.report.round_sheet.blocks import (
    EDGE_MM,
    Block,
    Density,
    RoundSheet,
    nothing,
    titled,
    with_more,
)
from fieldapp.report.set_text import broken, line_mm, set_line, set_lines
from fieldapp.report.words.findings import BETWEEN, counted, in_signs, measured, told
from schemas.findings import Finding

GUTTER_MM = 5.0


def accepted_list(sheet: RoundSheet, density: Density, shown: int | None = None) -> Block:
    """Give the accepted findings; `shown` is how many where not all fit."""
    every = [finding for finding in sheet.assessment.findings if not told(finding)]
    kept = every[:shown]
    if not every:
        return nothing()
    if not kept:
        return with_more(nothing(), f"{counted(len(every), 'finding')} accepted, on the tablet")
    size_pt = min(8.0, density.size_pt)
    rows = _flowing(sheet, kept, size_pt) if density.flowing else _listed(sheet, kept, size_pt)
    more = len(every) - len(kept)
    words = f"and {more} more accepted, on the tablet" if more else ""
    return with_more(titled("Accepted", rows), words)


def _listed(sheet: RoundSheet, kept: list[Finding], size_pt: float) -> Block:
    half = (len(kept) + 1) // 2
    room = (sheet.wide_mm - GUTTER_MM) / 2
    line = line_mm(size_pt)

    def paint(pen: PdfPen, top: float) -> None:
        for number, finding in enumerate(kept):
            x = EDGE_MM + number // half * (room + GUTTER_MM)
            _line(pen, finding, (x, top + number % half * line), size_pt, room)

    return Block(half * line, paint)


def _line(pen: PdfPen, finding: Finding, corner: Point, size_pt: float, room: float) -> None:
    x, y = corner
    half = size_pt * MM_PER_POINT * 0.42
    paint_mark(pen, VERDICT_MARKS[finding.verdict], (x + half, y + line_mm(size_pt) / 2), half)
    value = _value(finding, size_pt, room * 0.6)
    title_room = room - width_mm(value, size_pt) - 2 * half - 3.5
    title = cut(_(finding.title), size_pt, title_room)
    set_line(pen, title, (x + 2 * half + 1.5, y), Type(size_pt))
    set_line(pen, value, (x + room, y), Type(size_pt, colour="quiet", align="right"))


def _flowing(sheet: RoundSheet, kept: list[Finding], size_pt: float) -> Block:
    kind = Type(size_pt)
    said = [f"{_(finding.title)} {_(measured(finding))}".strip() for finding in kept]
    lines = broken(BETWEEN.join(said), kind, sheet.wide_mm)

    def paint(pen: PdfPen, top: float) -> None:
        set_lines(pen, lines, (EDGE_MM, top), kind)

    return Block(len(lines) * line_mm(size_pt), paint)


def _value(finding: Finding, size_pt: float, room: float) -> str:
    """Give the longest way to say the value beside its limit for which there is room."""
    ways = list(_ways(finding))
    return next((it for it in ways if width_mm(it, size_pt) <= room), cut(ways[-1], size_pt, room))


def _ways(finding: Finding) -> Iterator[str]:
    """Yield the value with its limit, then more briefly; where there is none, how it is known."""
    if finding.measured is None or finding.is_for_engineers:
        yield _(finding.basis.split(";")[0])
        return
    value, plain = _(measured(finding)), _(measured(finding, doubt=False))
    limit = f" ({_(finding.limit)})" if finding.limit else ""
    brief = in_signs(f" ({finding.limit})") if finding.limit else ""
    yield f"{value}{limit}"
    yield f"{value}{brief}"
    yield f"{plain}{brief}"
