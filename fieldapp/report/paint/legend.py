"""The legend of the unrolled drive: what is drawn and nothing else, on as many lines as needed."""

from collections.abc import Callable
from dataclasses import dataclass

from assets.translate import _
from fieldapp.report.letters import width_mm
from fieldapp.report.load_hatching import HATCHES
from fieldapp.report.marks import BOLT_MARKS
from fieldapp.report.paint.drive import GAP_DASH_MM, MARK_HALF_MM, paint_hatching
from fieldapp.report.paint.loads import paint_hatched
from fieldapp.report.paint.mark import paint_mark
from fieldapp.report.pens.pen import Line, Pen, Point, Type, box
from fieldapp.report.shapes import BoltState, Drawing

LEGEND_PT = 7.0
LINE_MM = 4.0
WORDS_FROM_MM = 1.1
APART_MM, LEAST_APART_MM = 4.5, 2.6
_HALF_MM = MARK_HALF_MM * 0.85
_SWATCH_MM = 6.0

_BOLTS: tuple[tuple[BoltState, str], ...] = (
    ("seated", "measured, plate seated"),
    ("assumed", "counted, plate seated"),
    ("loose", "plate loose"),
    ("not counting", "there, doesn't count"),
    ("missing", "missing"),
    ("not looked at", "not looked at"),
)


_CIRCLES = {
    "plated": "largest gap",
    "anchored": "largest gap, anchored bolts",
    "damage": "damage, of whatever size",
}


@dataclass(frozen=True)
class _Item:
    """A small picture, how wide it is, and its meaning; `paint` is given its left middle."""

    words: str
    picture_mm: float
    paint: Callable[[Pen, Point], None]

    @property
    def wide_mm(self) -> float:
        return self.picture_mm + WORDS_FROM_MM + width_mm(_(self.words), LEGEND_PT)


def legend_mm(drawing: Drawing, wide_mm: float) -> float:
    """Say how high the legend is."""
    return len(_rows(drawing, wide_mm)) * LINE_MM


def paint_legend(pen: Pen, drawing: Drawing, corner: Point, wide_mm: float) -> None:
    """Paint the legend from its upper left corner."""
    for number, row in enumerate(_rows(drawing, wide_mm)):
        spare_mm = wide_mm - sum(item.wide_mm for item in row)
        apart_mm = min(APART_MM, spare_mm / max(1, len(row) - 1))
        x, y = corner[0], corner[1] + (number + 0.5) * LINE_MM
        for item in row:
            item.paint(pen, (x, y))
            words_at = (x + item.picture_mm + WORDS_FROM_MM, y + 0.9)
            pen.write(_(item.words), words_at, Type(LEGEND_PT))
            x += item.wide_mm + apart_mm


def _rows(drawing: Drawing, wide_mm: float) -> list[list[_Item]]:
    rows: list[list[_Item]] = [[]]
    for item in _items(drawing):
        taken = sum(it.wide_mm + LEAST_APART_MM for it in rows[-1])
        if rows[-1] and taken + item.wide_mm > wide_mm:
            rows.append([])
        rows[-1].append(item)
    return rows if rows[0] else []


def _items(drawing: Drawing) -> list[_Item]:
    used = {bolt.state for bolt in drawing.bolts}
    items = [_bolt_item(state, words) for state, words in _BOLTS if state in used]
    if any(sheet.read for sheet in drawing.sheets):
        items.append(_Item("sheet of mesh", _SWATCH_MM, _sheet_swatch))
    if any(not sheet.read for sheet in drawing.sheets):
        items.append(_Item("sheet as standard, assumed", _SWATCH_MM, _assumed_swatch))
    if drawing.bare:
        items.append(_Item("rock without mesh", _SWATCH_MM, _bare_swatch))
    if any(band.read for band in drawing.bands):
        items.append(_Item("mesh lap", _SWATCH_MM, _hatched_swatch))
    if any(not band.read for band in drawing.bands):
        items.append(_Item("mesh lap not read", _SWATCH_MM, _dashed_swatch))
    items += [_cell_item(step, words) for step, words in enumerate(drawing.cell_words)]
    if drawing.circles:
        of = drawing.circles[0].of
        dash_mm = GAP_DASH_MM if of == "plated" else 0.0
        words = _CIRCLES[of]
        items.append(_Item(words, 2 * _HALF_MM, lambda pen, at: _gap(pen, at, dash_mm)))
    return items


def _bolt_item(state: BoltState, words: str) -> _Item:
    def paint(pen: Pen, at: Point) -> None:
        paint_mark(pen, BOLT_MARKS[state], (at[0] + _HALF_MM, at[1]), _HALF_MM)

    return _Item(words, 2 * _HALF_MM, paint)


def _sheet_swatch(pen: Pen, at: Point) -> None:
    _paint_sheet(pen, at, Line("outline", 0.3))


def _assumed_swatch(pen: Pen, at: Point) -> None:
    _paint_sheet(pen, at, Line("outline", 0.3, dash_mm=1.2, gap_mm=0.8))


def _paint_sheet(pen: Pen, at: Point, edge: Line) -> None:
    for share in (0.25, 0.5, 0.75):
        x = at[0] + share * _SWATCH_MM
        pen.stroke([(x, at[1] - 1.0), (x, at[1] + 1.0)], Line("faint", 0.18))
    pen.stroke([at, (at[0] + _SWATCH_MM, at[1])], Line("faint", 0.18))
    pen.stroke(box((at[0], at[1] - 1.0), (_SWATCH_MM, 2.0)), edge, closed=True)


def _bare_swatch(pen: Pen, at: Point) -> None:
    line = Line("rework", 0.6, dash_mm=1.0, gap_mm=0.8)
    pen.stroke(box((at[0], at[1] - 1.0), (_SWATCH_MM, 2.0)), line, closed=True)


def _cell_item(step: int, words: str) -> _Item:
    def paint(pen: Pen, at: Point) -> None:
        outline = box((at[0], at[1] - 1.5), (_SWATCH_MM, 3.0))
        paint_hatched(pen, outline, HATCHES[step])
        pen.stroke(outline, Line("outline", 0.25), closed=True)

    return _Item(words, _SWATCH_MM, paint)


def _hatched_swatch(pen: Pen, at: Point) -> None:
    paint_hatching(pen, (at[0], at[1] - 1.0), (_SWATCH_MM, 2.0), "measures")


def _dashed_swatch(pen: Pen, at: Point) -> None:
    line = Line("quiet", 0.18, dash_mm=1.2, gap_mm=1.2)
    pen.stroke(box((at[0], at[1] - 1.0), (_SWATCH_MM, 2.0)), line, closed=True)


def _gap(pen: Pen, at: Point, dash_mm: float) -> None:
    line = Line("text", 0.35, dash_mm=dash_mm / 2, gap_mm=0.8)
    pen.circle((at[0] + _HALF_MM, at[1]), _HALF_MM, line)
