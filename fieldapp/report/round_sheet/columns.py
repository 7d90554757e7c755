"""Findings in two columns, where a sheet has many: each in a few lines, or in one."""

from dataclasses import dataclass

from assets.translate import _
from fieldapp.report.letters import cut, width_mm
from fieldapp.report.marks import VERDICT_MARKS
from fieldapp.report.paint.mark import paint_mark
from fieldapp.report.pens.pdf import PdfPen
from fieldapp.report.pens.pen import Point, Type
from fieldapp.report.round_sheet.blocks import EDGE_MM, Block, Density, RoundSheet
from fieldapp.report.set_text import broken, line_mm, set_line, set_lines
from fieldapp.report.words.findings import BETWEEN, in_signs, measured, places, verdict_words
from schemas.findings import Finding

GUTTER_MM = 5.0
APART_MM = 0.5
MARK_APART_MM = 1.3


@dataclass(frozen=True)
class _Item:
    """One finding, broken into its lines; `said` is empty where one line must do."""

    finding: Finding
    size_pt: float
    room_mm: float
    said: list[str]

    @property
    def high_mm(self) -> float:
        return (1 + len(self.said)) * line_mm(self.size_pt) + APART_MM

    @property
    def indent_mm(self) -> float:
        return 1.1 * line_mm(self.size_pt) + MARK_APART_MM


def in_two_columns(sheet: RoundSheet, density: Density, kept: list[Finding]) -> Block:
    """Give the findings in two columns, read down the left one first."""
    room = (sheet.wide_mm - GUTTER_MM) / 2
    items = [_item(finding, density, room) for finding in kept]
    split = even_split([item.high_mm for item in items])
    columns = (items[:split], items[split:])

    def paint(pen: PdfPen, top: float) -> None:
        for number, column in enumerate(columns):
            y = top
            for item in column:
                _paint(pen, item, (EDGE_MM + number * (room + GUTTER_MM), y))
                y += item.high_mm

    return Block(max(sum(item.high_mm for item in column) for column in columns), paint)


def even_split(heights: list[float]) -> int:
    """Find where the second column begins, so that both end as near as can be."""
    return min(
        range(1, len(heights) + 1),
        key=lambda at: (max(sum(heights[:at]), sum(heights[at:])), -at),
    )


def _item(finding: Finding, density: Density, room: float) -> _Item:
    item = _Item(finding, density.size_pt, room, [])
    if density.lines_each == 1:
        return item
    parts = (_(verdict_words(finding)), finding.because, _(places(finding, 2)))
    words = BETWEEN.join(part for part in parts if part)
    kind, inside = Type(density.size_pt), room - item.indent_mm
    said = broken(words, kind, inside, at_most=density.lines_each - 1)
    return _Item(finding, density.size_pt, room, said)


def _paint(pen: PdfPen, item: _Item, corner: Point) -> None:
    (x, y), line = corner, line_mm(item.size_pt)
    half = line * (0.55 if item.said else 0.42)
    middle = y + line * (0.85 if item.said else 0.5)
    paint_mark(pen, VERDICT_MARKS[item.finding.verdict], (x + line * 0.55, middle), half)
    at = (x + item.indent_mm, y)
    room = item.room_mm - item.indent_mm
    if item.said:
        _first_line(pen, item, at, room)
        set_lines(pen, item.said, (at[0], y + line), Type(item.size_pt))
    else:
        set_line(pen, cut(_one_line(item.finding), item.size_pt, room), at, Type(item.size_pt))


def _first_line(pen: PdfPen, item: _Item, at: Point, room: float) -> None:
    size_pt, value = item.size_pt, _value(item.finding)
    title_room = room - width_mm(value, size_pt, bold=True) - 2.0
    title = cut(_(item.finding.title), size_pt, title_room, bold=True)
    set_line(pen, title, at, Type(size_pt, bold=True))
    set_line(pen, value, (at[0] + room, at[1]), Type(size_pt, bold=True, align="right"))


def _one_line(finding: Finding) -> str:
    parts = (_(finding.title), _(finding.verdict.value), _value(finding), _(places(finding, 1)))
    return BETWEEN.join(part for part in parts if part)


def _value(finding: Finding) -> str:
    limit = in_signs(_(finding.limit or ""))
    return BETWEEN.join(part for part in (_(measured(finding)), limit) if part)
