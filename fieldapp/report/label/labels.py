"""Labels: two square codes of one thing, its short id in letters of 10 mm, what and where it is.

Two codes, because dirt on one corner of a square code takes it away whole, however much of it
could be put right. The same labels give the same bytes.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from math import floor
from typing import Final

from assets.translate import _
from fieldapp.report.colours import PAPER
from fieldapp.report.label.form import (
    LARGEST_MODULE_MM,
    LEAST_MODULE_MM,
    STEP_MM,
    FormTooSmall,
    LabelForm,
    NoSuchPlace,
    side_mm,
)
from fieldapp.report.letters import CAPITAL, MM_PER_POINT, width_mm
from fieldapp.report.pens.pdf import PdfPen
from fieldapp.report.pens.pen import Line, Pen, Point, Type, box
from fieldapp.report.pens.png import PngPen
from fieldapp.report.set_text import broken, line_mm, set_line, set_lines
from fieldapp.report.square_code import paint_square_code
from schemas.short_id import ShortId

CODE_MM: Final = 10.0
"""Height of the letters of the short id: read by people from some 2 m under a cap lamp."""
PADDING_MM: Final = 2.0
APART_MM: Final = 2.0
PX_PER_MM: Final = 10.0
"""Of a picture: a module of 1.8 mm is 18 dots."""

_CODE: Final = Type(CODE_MM / CAPITAL / MM_PER_POINT, bold=True)
_TITLE: Final = Type(12.0, bold=True)
_WORDS: Final = Type(10.0)
_CODE_LINE_MM: Final = 12.5
_BELOW_CODE_MM: Final = 1.2
_LARGER: Final = (1.4, 1.2, 1.0)
"""Words are set as large as there is room for."""
_TITLE_LINES: Final = 2
_PLACE_LINES: Final = 3
_WIDEST: Final = "WWWW-WWWW-W"
_WIDEST_LINE: Final = "WWWW-W"
"""No short id, and no line of one, is wider: codes are as large on every label of a form."""


@dataclass(frozen=True)
class Label:
    """What stands on one label."""

    code: ShortId
    title: str
    place: str
    date: str


@dataclass(frozen=True)
class _Layout:
    """Where things stand on a label, from its upper left corner."""

    module_mm: float
    codes: tuple[Point, Point]
    words: Point
    room_mm: float
    """Width for words."""
    in_two: bool
    """The short id in two lines."""
    larger: float = 1.0
    """How much larger than the least its words are."""


def module_mm(form: LabelForm) -> float:
    """Say how wide the modules of a form's square codes are.

    Raises
    ------
    FormTooSmall
        There is no room for them and for the words.
    """
    return _layout(form).module_mm


def labels_pdf(
    labels: Sequence[Label], form: LabelForm, printed_at: datetime, start: int = 1
) -> bytes:
    """Print labels as a PDF, the first of them in a place of the sheet counted from 1.

    Raises
    ------
    FormTooSmall, NoSuchPlace
        The form has no room for a label, or no such place.
    """
    layout, sheets = _layout(form), tuple(_sheets(labels, form, start))
    with PdfPen(form.paper, PAPER, _("Labels"), printed_at) as pen:
        for number, sheet in enumerate(sheets):
            if number:
                pen.next_page()
            _paint_sheet(pen, sheet, form, layout)
        return pen.output()


def labels_png(labels: Sequence[Label], form: LabelForm, start: int = 1) -> tuple[bytes, ...]:
    """Print labels as pictures of 254 dots an inch, one a sheet.

    Raises
    ------
    FormTooSmall, NoSuchPlace
        The form has no room for a label, or no such place.
    """
    return tuple(_picture(sheet, form) for sheet in _sheets(labels, form, start))


def _picture(sheet: "_Sheet", form: LabelForm) -> bytes:
    size_mm = (form.paper.wide_mm, form.paper.high_mm)
    pen = PngPen(size_mm, PX_PER_MM, PAPER, finer=2)
    _paint_sheet(pen, sheet, form, _layout(form))
    return pen.png()


_Sheet = tuple[tuple[int, Label], ...]


def _sheets(labels: Sequence[Label], form: LabelForm, start: int) -> Iterator[_Sheet]:
    if not 1 <= start <= form.on_a_sheet:
        raise NoSuchPlace(start, form.on_a_sheet)
    whole: list[Label | None] = [None] * (start - 1) + list(labels)
    for first in range(0, len(whole), form.on_a_sheet):
        on_it = enumerate(whole[first : first + form.on_a_sheet])
        yield tuple((place, it) for place, it in on_it if it is not None)


def _paint_sheet(pen: Pen, sheet: _Sheet, form: LabelForm, layout: _Layout) -> None:
    for place, label in sheet:
        corner = form.corner(place)
        if form.cut:
            outline = box(corner, (form.wide_mm, form.high_mm))
            pen.stroke(outline, Line("faint", 0.2), closed=True)
        _paint(pen, label, corner, layout)


def _paint(pen: Pen, label: Label, corner: Point, layout: _Layout) -> None:
    for x, y in layout.codes:
        at = (_on_step(corner[0] + x), _on_step(corner[1] + y))
        paint_square_code(pen, label.code.payload, at, side_mm(layout.module_mm))
    left, top = corner[0] + layout.words[0], corner[1] + layout.words[1]
    for line in _code_lines(label.code, in_two=layout.in_two):
        set_line(pen, line, (left, top), _CODE)
        top += _CODE_LINE_MM
    top += _BELOW_CODE_MM
    title, plain = (replace(it, size_pt=it.size_pt * layout.larger) for it in (_TITLE, _WORDS))
    for words, kind, at_most in (
        (label.title, title, _TITLE_LINES),
        (label.place, plain, _PLACE_LINES if layout.in_two else 1),
        (label.date, plain, 1),
    ):
        top += set_lines(pen, broken(words, kind, layout.room_mm, at_most), (left, top), kind)


def _code_lines(code: ShortId, *, in_two: bool) -> list[str]:
    start, _, end = code.readable.partition("-")
    return [start, end] if in_two else [code.readable]


def _layout(form: LabelForm) -> _Layout:
    """Choose whichever gives the larger codes: words between them, or below them."""
    best = max(_between(form), _below(form), key=lambda it: it.module_mm)
    if best.module_mm < LEAST_MODULE_MM:
        raise FormTooSmall(f"{form.wide_mm:.0f}", f"{form.high_mm:.0f}")
    return best


def _between(form: LabelForm) -> _Layout:
    room = width_mm(_WIDEST_LINE, _CODE.size_pt, bold=True)
    wide, high = form.wide_mm - 2 * PADDING_MM, form.high_mm - 2 * PADDING_MM
    fitting = (it for it in _LARGER if _words_mm(in_two=True, larger=it) <= high)
    larger = next(fitting, 1.0)
    words_mm = _words_mm(in_two=True, larger=larger)
    largest = min((wide - room - 2 * APART_MM) / 2, high) if words_mm <= high else 0.0
    module = _module_in(largest)
    side = side_mm(module)
    above = (form.high_mm - side) / 2
    right = form.wide_mm - PADDING_MM - side
    left = PADDING_MM + side + APART_MM
    return _Layout(
        module_mm=module,
        codes=((PADDING_MM, above), (right, above)),
        words=(left, (form.high_mm - words_mm) / 2),
        room_mm=right - APART_MM - left,
        in_two=True,
        larger=larger,
    )


def _below(form: LabelForm) -> _Layout:
    wide, high = form.wide_mm - 2 * PADDING_MM, form.high_mm - 2 * PADDING_MM
    in_two = wide < width_mm(_WIDEST, _CODE.size_pt, bold=True)
    fits = wide >= width_mm(_WIDEST_LINE, _CODE.size_pt, bold=True)
    module = _module_in(min(wide / 2, high - _words_mm(in_two=in_two)) if fits else 0.0)
    side = side_mm(module)
    return _Layout(
        module_mm=module,
        codes=((PADDING_MM, PADDING_MM), (form.wide_mm - PADDING_MM - side, PADDING_MM)),
        words=(PADDING_MM, PADDING_MM + side),
        room_mm=wide,
        in_two=in_two,
    )


def _words_mm(*, in_two: bool, larger: float = 1.0) -> float:
    code = _CODE_LINE_MM * (2 if in_two else 1) + _BELOW_CODE_MM
    titles, places = _TITLE_LINES, _PLACE_LINES if in_two else 1
    lines_pt = titles * _TITLE.size_pt + (places + 1) * _WORDS.size_pt
    return code + line_mm(lines_pt * larger)


def _module_in(side: float) -> float:
    module = max(side, 0.0) / side_mm(1.0)
    return min(LARGEST_MODULE_MM, floor(module / STEP_MM + 1e-6) * STEP_MM)


def _on_step(value: float) -> float:
    return round(value / STEP_MM) * STEP_MM
