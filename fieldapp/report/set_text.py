"""Sets text on a page: lines, paragraphs, and how high they are."""

from dataclasses import replace

from fieldapp.report.letters import MM_PER_POINT, cut, wrapped
from fieldapp.report.pens.pen import Pen, Point, Type

LEADING = 1.28
_BASELINE = 0.94
"""How far below the top of its line a text's baseline lies, in sizes of its letters."""


def line_mm(size_pt: float) -> float:
    """Say how high a line is."""
    return size_pt * MM_PER_POINT * LEADING


def set_line(pen: Pen, text: str, corner: Point, kind: Type) -> None:
    """Write one line; `corner` is the upper end that the text is aligned to."""
    pen.write(text, (corner[0], corner[1] + kind.size_pt * MM_PER_POINT * _BASELINE), kind)


def set_lines(pen: Pen, lines: list[str], corner: Point, kind: Type) -> float:
    """Write lines below each other and say how high they are."""
    for number, line in enumerate(lines):
        set_line(pen, line, (corner[0], corner[1] + number * line_mm(kind.size_pt)), kind)
    return len(lines) * line_mm(kind.size_pt)


def broken(text: str, kind: Type, room_mm: float, at_most: int = 99) -> list[str]:
    """Break a text into lines; what goes beyond the last one ends in an ellipsis."""
    lines = wrapped(text, kind.size_pt, room_mm, bold=kind.bold)
    if len(lines) <= at_most:
        return lines
    rest = " ".join(lines[at_most - 1 :])
    return [*lines[: at_most - 1], cut(rest, kind.size_pt, room_mm, bold=kind.bold)]


def set_paragraph(pen: Pen, text: str, corner: Point, kind: Type, room_mm: float) -> float:
    """Write a paragraph and say how high it is."""
    return set_lines(pen, broken(text, kind, room_mm), corner, kind)


def bold(kind: Type) -> Type:
    """Give the same letters in bold."""
    return replace(kind, bold=True)
