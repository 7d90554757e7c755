"""A pen that paints on pages of a PDF: vectors, selectable text, embedded letters.

The same strokes at the same `printed_at` give the same bytes.
"""

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime
from io import BytesIO
from math import atan2, degrees
from typing import TYPE_CHECKING, Self

from fieldapp.report.colours import Palette, rgb
from fieldapp.report.letters import FAMILIES, font_file, runs, width_mm
from fieldapp.report.pens.pen import Line, Point, Type

if TYPE_CHECKING:
    from fpdf import FPDF

_ROUND_LINES = "1 J 1 j"
"""Round ends and corners of every line (ISO 32000-1:2008, tables 54, 55 and 57)."""


_WATERMARK = (234, 234, 234)
"""Pale enough to read through, dark enough to survive a copier."""


@dataclass(frozen=True)
class Paper:
    """A sheet of paper, upright."""

    name: str
    wide_mm: float
    high_mm: float


A4 = Paper("A4", 210.0, 297.0)
LETTER = Paper("Letter", 215.9, 279.4)
PAPERS = {it.name: it for it in (A4, LETTER)}


class PdfPen:
    """One page of paper, and more where they are begun. `output` gives the file.

    It holds the files of its letters: leaving it gives them back, also where it was stopped.
    """

    def __init__(self, paper: Paper, palette: Palette, title: str, printed_at: datetime) -> None:
        self.paper = paper
        self._palette = palette
        self._pdf = _page(paper, title, printed_at)

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_raised: object) -> None:
        from fpdf.fonts import TTFFont

        for font in self._pdf.fonts.values():
            if isinstance(font, TTFFont):
                font.close()

    def stroke(self, points: Sequence[Point], line: Line, *, closed: bool = False) -> None:
        """Draw a line."""
        with self._lined(line):
            self._pdf.polyline(list(points), polygon=closed)

    def fill(self, points: Sequence[Point], colour: str) -> None:
        """Fill a polygon."""
        self._pdf.set_fill_color(*_bytes(self._palette, colour))
        self._pdf.polygon(list(points), style="F")

    def disc(self, centre: Point, radius_mm: float, colour: str) -> None:
        """Fill a circle."""
        self._pdf.set_fill_color(*_bytes(self._palette, colour))
        self._pdf.ellipse(*_around(centre, radius_mm), style="F")

    def circle(self, centre: Point, radius_mm: float, line: Line) -> None:
        """Draw a circle's line."""
        with self._lined(line):
            self._pdf.ellipse(*_around(centre, radius_mm))

    def write(self, text: str, at: Point, kind: Type) -> None:
        """Write one line of text, the part of it that each font draws after the other."""
        x, y = at
        room = width_mm(text, kind.size_pt, bold=kind.bold)
        x -= {"left": 0.0, "middle": room / 2, "right": room}[kind.align]
        self._pdf.set_text_color(*_bytes(self._palette, kind.colour))
        for family, part in runs(text):
            self._pdf.set_font(family, "B" if kind.bold else "", kind.size_pt)
            self._pdf.text(x, y, part)
            x += width_mm(part, kind.size_pt, bold=kind.bold)

    def write_across(self, text: str, size_pt: float = 58.0) -> None:
        """Write pale letters from corner to corner. Painted first, they lie under the rest."""
        pdf = self._pdf
        middle = (pdf.w / 2, pdf.h / 2)
        slope = degrees(atan2(pdf.h, pdf.w))
        with pdf.rotation(slope, *middle):
            kind = Type(size_pt, bold=True, colour="watermark", align="middle")
            self.write(text, middle, kind)

    def picture(self, jpeg: bytes, corner: Point, size_mm: tuple[float, float]) -> None:
        """Lay a JPEG file into a box; its bytes go into the file as they are."""
        self._pdf.image(BytesIO(jpeg), *corner, *size_mm)

    def next_page(self) -> None:
        """Begin another page of the same paper; nothing is painted on those before any more."""
        self._pdf.add_page()
        self._pdf.draw_round_lines()  # type: ignore[attr-defined]

    def output(self) -> bytes:
        """Give the finished file."""
        return bytes(self._pdf.output())

    @contextmanager
    def _lined(self, line: Line) -> Iterator[None]:
        pdf = self._pdf
        pdf.set_draw_color(*_bytes(self._palette, line.colour))
        pdf.set_line_width(line.width_mm)
        pdf.set_dash_pattern(line.dash_mm, line.gap_mm)
        yield
        pdf.set_dash_pattern()


def _page(paper: Paper, title: str, printed_at: datetime) -> "FPDF":
    from fpdf import FPDF

    class RoundLines(FPDF):
        """Lines as every pen draws them. The file's identity is its content and its date."""

        def draw_round_lines(self) -> None:
            self._out(_ROUND_LINES)

    pdf = RoundLines(unit="mm", format=(paper.wide_mm, paper.high_mm))
    pdf.set_margin(0)
    pdf.set_auto_page_break(False)
    pdf.set_title(title)
    pdf.set_lang("en")
    pdf.set_creator("Lastrow")
    pdf.set_producer("Lastrow")
    pdf.set_creation_date(printed_at)
    for family in FAMILIES:
        for style in ("", "B"):
            pdf.add_font(family, style, font_file(family, bold=bool(style)))
    pdf.add_page()
    pdf.draw_round_lines()
    return pdf


def _around(centre: Point, radius_mm: float) -> tuple[float, float, float, float]:
    return centre[0] - radius_mm, centre[1] - radius_mm, 2 * radius_mm, 2 * radius_mm


def _bytes(palette: Palette, colour: str) -> tuple[int, int, int]:
    if colour == "watermark":
        return _WATERMARK
    red, green, blue = (round(part * 255) for part in rgb(getattr(palette, colour)))
    return red, green, blue
