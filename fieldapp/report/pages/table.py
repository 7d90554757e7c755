"""Tables that break between rows and repeat their head; long words wrap in their cell."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, Literal

from fieldapp.report.marks import MarkShape
from fieldapp.report.pages.flow import Piece, text_pieces
from fieldapp.report.paint.mark import paint_mark
from fieldapp.report.pens.pdf import PdfPen
from fieldapp.report.pens.pen import Line, Type
from fieldapp.report.round_sheet.blocks import EDGE_MM, SMALLEST_PT, Block
from fieldapp.report.set_text import broken, line_mm, set_line

PADDING_MM: Final = 1.2
SIZE_PT: Final = 7.5
MOST_LINES: Final = 24
"""A cell that says more ends in an ellipsis: what is stated at length stands outside of tables."""
MARK_MM: Final = 4.4


@dataclass(frozen=True)
class Column:
    """One column: its title, with the unit, and its share of the width."""

    title: str
    share: float
    align: Literal["left", "right"] = "left"


@dataclass(frozen=True)
class Row:
    """One row; the mark stands before the words of the first cell."""

    cells: tuple[str, ...]
    mark: MarkShape | None = None
    bold: bool = False


def table(
    columns: Sequence[Column], rows: Sequence[Row], wide_mm: float, *, nothing: str
) -> list[Piece]:
    """Give the head and the rows of a table; what `nothing` says where there are none."""
    if not rows:
        return text_pieces(nothing, wide_mm, Type(8.5, colour="quiet"))
    places = _places(columns, wide_mm)
    head = _head(columns, places)
    first = Piece(head, above_mm=2.0, with_next=True)
    return [first, *(Piece(_row(columns, places, it), over=head) for it in rows)]


def _places(columns: Sequence[Column], wide_mm: float) -> list[tuple[float, float]]:
    """Give where each column begins and how wide it is."""
    whole = sum(it.share for it in columns)
    places, x = [], EDGE_MM
    for it in columns:
        wide = wide_mm * it.share / whole
        places.append((x, wide))
        x += wide
    return places


def _head(columns: Sequence[Column], places: Sequence[tuple[float, float]]) -> Block:
    kind = Type(SMALLEST_PT, bold=True, colour="quiet")
    cells = [
        broken(it.title, kind, wide - 2 * PADDING_MM)
        for it, (_, wide) in zip(columns, places, strict=True)
    ]
    high = max(map(len, cells)) * line_mm(kind.size_pt) + PADDING_MM

    def paint(pen: PdfPen, top: float) -> None:
        for column, place, lines in zip(columns, places, cells, strict=True):
            down = top + high - PADDING_MM - len(lines) * line_mm(kind.size_pt)
            _paint_cell(pen, lines, place, down, _aligned(kind, column))
        _rule(pen, places, top + high, Line("text", 0.3))

    return Block(high + 0.4, paint)


def _row(columns: Sequence[Column], places: Sequence[tuple[float, float]], row: Row) -> Block:
    kind = Type(SIZE_PT, bold=row.bold)
    indents = [MARK_MM if row.mark and not number else 0.0 for number in range(len(columns))]
    cells = [
        broken(words, kind, wide - 2 * PADDING_MM - indent, MOST_LINES)
        for words, (_, wide), indent in zip(row.cells, places, indents, strict=True)
    ]
    high = max(1, *map(len, cells)) * line_mm(SIZE_PT) + PADDING_MM

    def paint(pen: PdfPen, top: float) -> None:
        if row.mark is not None:
            middle = (places[0][0] + PADDING_MM + 1.5, top + PADDING_MM / 2 + line_mm(SIZE_PT) / 2)
            paint_mark(pen, row.mark, middle, 1.4)
        for column, (x, wide), indent, lines in zip(columns, places, indents, cells, strict=True):
            place = (x + indent, wide - indent)
            _paint_cell(pen, lines, place, top + PADDING_MM / 2, _aligned(kind, column))
        _rule(pen, places, top + high, Line("faint", 0.15))

    return Block(high, paint)


def _aligned(kind: Type, column: Column) -> Type:
    return Type(kind.size_pt, kind.bold, kind.colour, column.align)


def _paint_cell(
    pen: PdfPen, lines: Sequence[str], place: tuple[float, float], top: float, kind: Type
) -> None:
    x = place[0] + (place[1] - PADDING_MM if kind.align == "right" else PADDING_MM)
    for number, words in enumerate(lines):
        set_line(pen, words, (x, top + number * line_mm(kind.size_pt)), kind)


def _rule(pen: PdfPen, places: Sequence[tuple[float, float]], y: float, line: Line) -> None:
    right = places[-1][0] + places[-1][1]
    pen.stroke([(EDGE_MM, y), (right, y)], line)
