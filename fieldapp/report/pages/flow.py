"""Lays pieces onto pages: none is torn, a table's head is repeated, titles keep what they name."""

import time
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime
from typing import Final

from assets.translate import _
from fieldapp.report.colours import PAPER
from fieldapp.report.letters import cut, width_mm
from fieldapp.report.pens.pdf import Paper, PdfPen
from fieldapp.report.pens.pen import Line, Type
from fieldapp.report.report_code import ReportCode
from fieldapp.report.round_sheet.blocks import EDGE_MM, SMALLEST_PT, Block
from fieldapp.report.set_text import broken, line_mm, set_line, set_lines
from sync.outcome import Progress, Watcher, nobody

HEAD_MM: Final = 7.0
CAUTION: Final = (
    "A barricade or sign in the heading outranks this page. It records and compares; it does not "
    "make ground safe."
)
"""At the foot of every page."""


@dataclass(frozen=True)
class Piece:
    """A part of a report that is never torn between two pages."""

    block: Block
    above_mm: float = 0.0
    """Kept free over it, but not at the top of a page."""
    over: Block | None = None
    """Repeated over it where a page begins with it: the head of its table."""
    with_next: bool = False
    """It stands on the page of the piece after it: a title."""


@dataclass(frozen=True)
class Pages:
    """What stands on every page of a report."""

    paper: Paper
    title: str
    mine: str
    code: ReportCode
    printed: str
    """When, in words."""
    printed_at: datetime
    demo: bool
    watch: Watcher = nobody
    began_s: float = field(default_factory=time.monotonic)

    @property
    def wide_mm(self) -> float:
        """Width between the edges."""
        return self.paper.wide_mm - 2 * EDGE_MM

    def tell(self, doing: str, done: int, of: int) -> None:
        """Tell the watcher how far it is; it may stop."""
        self.watch(Progress(doing, done, of, 0, time.monotonic() - self.began_s))


_Placed = tuple[Block, float]


def pages_pdf(pages: Pages, pieces: Sequence[Piece]) -> bytes:
    """Print pieces on as many pages as they need.

    The same pieces give the same bytes.

    Raises
    ------
    Stopped
        The watcher stopped it: nothing was written anywhere.
    """
    foot = _foot(pages)
    top = EDGE_MM + HEAD_MM
    bottom = pages.paper.high_mm - EDGE_MM - foot.high_mm - 2.0
    laid = list(_laid(pieces, top, bottom))
    with PdfPen(pages.paper, PAPER, pages.title, pages.printed_at) as pen:
        for number, placed in enumerate(laid, start=1):
            pages.tell("printing pages", number - 1, len(laid))
            if number > 1:
                pen.next_page()
            _paint_page(pages, pen, placed, (number, len(laid)))
            foot.paint(pen, pages.paper.high_mm - EDGE_MM - foot.high_mm)
        pages.tell("printing pages", len(laid), len(laid))
        return pen.output()


def _laid(pieces: Sequence[Piece], top: float, bottom: float) -> Iterator[list[_Placed]]:
    page: list[_Placed] = []
    y = top
    for number, piece in enumerate(pieces):
        if page and y + piece.above_mm + _together_mm(pieces, number, bottom - top) > bottom:
            yield page
            page, y = [], top
        if not page and piece.over is not None:
            page.append((piece.over, y))
            y += piece.over.high_mm
        y += piece.above_mm if page else 0.0
        page.append((piece.block, y))
        y += piece.block.high_mm
    yield page


def _together_mm(pieces: Sequence[Piece], number: int, room_mm: float) -> float:
    """Say how much room a piece needs with those that must not be parted from it.

    What has no room on one page together is parted where it has to be.
    """
    alone_mm = high = pieces[number].block.high_mm
    while pieces[number].with_next and number + 1 < len(pieces):
        number += 1
        high += pieces[number].above_mm + pieces[number].block.high_mm
    return high if high <= room_mm else alone_mm


def _paint_page(
    pages: Pages, pen: PdfPen, placed: Sequence[_Placed], place: tuple[int, int]
) -> None:
    if pages.demo:
        pen.write_across(_("DEMO · WORKED EXAMPLE"))
    quiet, right = Type(8.0, colour="quiet"), pages.paper.wide_mm - EDGE_MM
    count = _("page {n} of {m}").format(n=place[0], m=place[1])
    room = pages.wide_mm - width_mm(count, 8.0) - 6.0
    set_line(pen, cut(f"{pages.title} · {pages.mine}", 8.0, room), (EDGE_MM, EDGE_MM), quiet)
    set_line(pen, count, (right, EDGE_MM), Type(8.0, colour="quiet", align="right"))
    under = EDGE_MM + line_mm(8.0) + 0.4
    pen.stroke([(EDGE_MM, under), (right, under)], Line("faint", 0.2))
    for block, top in placed:
        block.paint(pen, top)


def _foot(pages: Pages) -> Block:
    strong, small = Type(8.0, bold=True), Type(SMALLEST_PT, colour="quiet")
    caution = broken(_(CAUTION), strong, pages.wide_mm)
    code = _("as at {at} · lastrow verify {code}")
    said = code.format(at=pages.printed, code=pages.code.readable)
    record = broken(said, small, pages.wide_mm)

    def paint(pen: PdfPen, top: float) -> None:
        pen.stroke([(EDGE_MM, top), (EDGE_MM + pages.wide_mm, top)], Line("text", 0.3))
        top += 1.2
        top += set_lines(pen, caution, (EDGE_MM, top), strong) + 0.4
        set_lines(pen, record, (EDGE_MM, top), small)

    return Block(1.6 + len(caution) * line_mm(8.0) + len(record) * line_mm(SMALLEST_PT), paint)


Paint = Callable[[PdfPen, float], None]


def text_pieces(
    text: str, wide_mm: float, kind: Type | None = None, above_mm: float = 0.0
) -> list[Piece]:
    """Give a paragraph, a line a piece: it breaks anywhere, and every letter of it is printed."""
    set_as = kind or Type(8.5)

    def line(words: str, first: bool) -> Piece:  # noqa: FBT001 - said where it is called
        def paint(pen: PdfPen, top: float) -> None:
            set_line(pen, words, (EDGE_MM, top), set_as)

        return Piece(Block(line_mm(set_as.size_pt), paint), above_mm if first else 0.0)

    lines = broken(text, set_as, wide_mm, at_most=10_000)
    return [line(words, number == 0) for number, words in enumerate(lines)]


def with_what_follows(pieces: Iterable[Piece]) -> Iterator[Piece]:
    """Keep pieces on the page of each other and of whatever comes after them."""
    return (replace(it, with_next=True) for it in pieces)


def title_piece(title: str, level: int = 1) -> Piece:
    """Give the title of a part, or of a part of it; it never stands alone at a page's end."""
    kind = Type(12.0 if level == 1 else 9.5, bold=True)
    high = line_mm(kind.size_pt) + 1.0

    def paint(pen: PdfPen, top: float) -> None:
        set_line(pen, title, (EDGE_MM, top), kind)

    return Piece(Block(high, paint), above_mm=5.0 if level == 1 else 3.0, with_next=True)
