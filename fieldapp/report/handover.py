"""The handover of a round on one page, in letters that can be read out under a cap lamp."""

from dataclasses import dataclass

from fieldapp.report.colours import PAPER
from fieldapp.report.handover_words import Handover, handover
from fieldapp.report.marks import VERDICT_MARKS
from fieldapp.report.paint.mark import paint_mark
from fieldapp.report.pens.pdf import PdfPen
from fieldapp.report.pens.pen import Line, Type, box
from fieldapp.report.round_sheet.blocks import EDGE_MM, RoundSheet
from fieldapp.report.round_sheet.head import CODE_COLUMN_MM, HEAD_MM, paint_code
from fieldapp.report.set_text import broken, line_mm, set_lines
from schemas.findings import Verdict

__all__ = ["Handover", "handover", "handover_sheet"]

SIZES_PT = (14.0, 13.0, 12.0, 11.0, 10.0, 9.0, 8.0, 7.5, 7.0)
INDENT_MM_PER_PT = 0.6


@dataclass(frozen=True)
class _Item:
    """One paragraph: a verdict's mark, a box to tick, a heading, or nothing before it."""

    words: str
    bold: bool = False
    verdict: Verdict | None = None
    tick: bool = False
    heading: bool = False

    def indent_mm(self, size_pt: float) -> float:
        return INDENT_MM_PER_PT * size_pt if self.tick or self.verdict else 0.0


def handover_sheet(sheet: RoundSheet) -> bytes:
    """Print the handover of a round as a PDF of one page; the same sheet gives the same bytes.

    Where not all of it fits at the smallest letters, the jobs and then the findings farthest
    down are counted.
    """
    said = handover(sheet)
    title = f"Handover, {sheet.bundle.heading.name}, {sheet.bundle.round.name}"
    with PdfPen(sheet.paper, PAPER, title, sheet.printed_at) as pen:
        if sheet.demo:
            pen.write_across("DEMO · WORKED EXAMPLE")
        room_mm = sheet.paper.high_mm - 2 * EDGE_MM - HEAD_MM
        items, size_pt = _fitting(said, sheet.wide_mm, room_mm)
        _paint_head(sheet, said, pen)
        top = EDGE_MM + HEAD_MM
        for item in items:
            top += _paint(pen, item, top, size_pt, sheet.wide_mm)
        return pen.output()


def _fitting(said: Handover, wide_mm: float, room_mm: float) -> tuple[list[_Item], float]:
    for size_pt in SIZES_PT:
        items = _items(said)
        if _high_mm(items, size_pt, wide_mm) <= room_mm:
            return items, size_pt
    jobs, wrong = len(said.jobs), len(said.wrong)
    while _high_mm(items, SIZES_PT[-1], wide_mm) > room_mm and wrong:
        jobs, wrong = (jobs - 1, wrong) if jobs else (0, wrong - 1)
        items = _items(said, jobs, wrong)
    return items, SIZES_PT[-1]


def _items(said: Handover, jobs: int | None = None, wrong: int | None = None) -> list[_Item]:
    items = [_Item(words, bold=True) for words in said.entry]
    items += [_Item(words) for words in said.decided]
    if said.wrong:
        items.append(_Item("What is not accepted, the worst first", heading=True))
        items += [_Item(words, verdict=verdict) for verdict, words in said.wrong[:wrong]]
        items += _more(len(said.wrong) - len(said.wrong[:wrong]), "more NOT ACCEPTED")
    if said.jobs:
        items.append(_Item("What to do", heading=True))
        items += [_Item(words, tick=True) for words in said.jobs[:jobs]]
        items += _more(len(said.jobs) - len(said.jobs[:jobs]), "more")
    items.append(_Item("What nobody saw", heading=True))
    items += [_Item(words) for words in said.not_seen]
    items += [_Item("Always", heading=True), _Item(" ".join(said.cautions), bold=True)]
    return items


def _more(left_out: int, words: str) -> list[_Item]:
    return [_Item(f"and {left_out} {words}, on the tablet", bold=True)] if left_out else []


def _kind(item: _Item, size_pt: float) -> Type:
    if item.heading:
        return Type(max(size_pt * 0.8, SIZES_PT[-1]), colour="quiet")
    return Type(size_pt, bold=item.bold)


def _lines(item: _Item, size_pt: float, wide_mm: float) -> list[str]:
    return broken(item.words, _kind(item, size_pt), wide_mm - item.indent_mm(size_pt))


def _item_mm(item: _Item, size_pt: float, wide_mm: float) -> float:
    line = line_mm(_kind(item, size_pt).size_pt)
    above = 0.75 * line_mm(size_pt) if item.heading else 0.0
    return above + len(_lines(item, size_pt, wide_mm)) * line + 0.3 * line_mm(size_pt)


def _high_mm(items: list[_Item], size_pt: float, wide_mm: float) -> float:
    return sum(_item_mm(item, size_pt, wide_mm) for item in items)


def _paint(pen: PdfPen, item: _Item, top: float, size_pt: float, wide_mm: float) -> float:
    kind, line = _kind(item, size_pt), line_mm(size_pt)
    y = top + (0.75 * line if item.heading else 0.0)
    half = min(0.42 * line, 2.6)
    if item.verdict is not None:
        paint_mark(pen, VERDICT_MARKS[item.verdict], (EDGE_MM + half, y + line / 2), half)
    if item.tick:
        outline = box((EDGE_MM, y + line / 2 - half * 0.8), (1.6 * half, 1.6 * half))
        pen.stroke(outline, Line("text", 0.3), closed=True)
    set_lines(pen, _lines(item, size_pt, wide_mm), (EDGE_MM + item.indent_mm(size_pt), y), kind)
    return _item_mm(item, size_pt, wide_mm)


def _paint_head(sheet: RoundSheet, said: Handover, pen: PdfPen) -> None:
    room = sheet.wide_mm - CODE_COLUMN_MM
    quiet = Type(9.0, colour="quiet")
    words = f"Handover · {sheet.mine} · printed {sheet.time(sheet.printed_at)}"
    y = EDGE_MM - 0.6
    y += set_lines(pen, broken(words, quiet, room), (EDGE_MM, y), quiet) + 1.5
    title = Type(17.0, bold=True)
    set_lines(pen, broken(said.title, title, room, at_most=3), (EDGE_MM, y), title)
    paint_code(sheet, pen, EDGE_MM)
