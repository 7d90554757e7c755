"""What every report is laid out with, and the parts that all of them have."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime, tzinfo
from decimal import Decimal
from io import BytesIO
from typing import Final
from zoneinfo import ZoneInfo

from assets.translate import _
from fieldapp.report.chart import Chart
from fieldapp.report.letters import cut, width_mm
from fieldapp.report.pages.flow import Pages, Piece, text_pieces, title_piece
from fieldapp.report.paint.chart import paint_chart
from fieldapp.report.pens.pdf import A4, Paper, PdfPen
from fieldapp.report.pens.pen import Line, Type, box
from fieldapp.report.report_code import ReportCode
from fieldapp.report.round_sheet.blocks import EDGE_MM, SMALLEST_PT, Block
from fieldapp.report.set_text import broken, line_mm, set_line, set_lines
from fieldapp.report.square_code import paint_square_code, quiet_zone_mm
from fieldapp.report.words.findings import day, sentence, when
from fieldapp.report.words.lengths import Units, chainage_words, in_units, metres_words, span_words
from fieldapp.work.photo.file import NoPhoto, photo_seen
from fieldapp.work.reporting.facts import (
    Facts,
)
from fieldapp.work.reporting.then import PictureOf
from fieldapp.work.reporting.told import (
    PhotoTold,
)
from sync.outcome import Watcher, nobody

CODE_MM: Final = 24.5
HEAD_MM: Final = 30.0
CHART_MM: Final = 46.0
GUTTER_MM: Final = 6.0
PHOTO_MM: Final = 52.0
"""The highest that a photo is printed."""
DOTS_A_MM: Final = 150 / 25.4
JPEG_QUALITY: Final = 72
NOT_SAID: Final = "–"
CAUTIONS: Final = (
    "Stay under supported ground. Bar down first.",
    "Nobody looked at bond, hidden length, grout or the ground behind the mesh, and no figure "
    "here stands for them.",
    "It tells what was recorded and had reached this machine at the time above: what was never "
    "looked at, what lies unfinished on a tablet and what was not shared is not in it. None of "
    "it says that a place is in order.",
    "It records and compares; it does not make ground safe. The mine's standard, local law and "
    "a qualified geotechnical engineer decide.",
)
"""Fixed lines: the same on every report."""


@dataclass(frozen=True)
class Laying:
    """How a report is laid out."""

    facts: Facts
    code: ReportCode
    units: Units
    picture_of: PictureOf
    paper: Paper = A4
    watch: Watcher = nobody

    @property
    def wide_mm(self) -> float:
        """Width between the edges."""
        return self.paper.wide_mm - 2 * EDGE_MM

    @property
    def zone(self) -> tzinfo:
        """Times are written in it."""
        return ZoneInfo(self.facts.zone)

    def pages(self, title: str) -> Pages:
        """Give what stands on every page."""
        facts = self.facts
        return Pages(
            paper=self.paper,
            title=title,
            mine=facts.mine,
            code=self.code,
            printed=self.when(facts.as_at),
            printed_at=facts.as_at,
            demo=facts.demo,
            watch=self.watch,
        )

    def when(self, at: datetime | None) -> str:
        """Write a time with its distance from UTC."""
        return NOT_SAID if at is None else when(at, self.zone)

    def day(self, at: datetime | date | None) -> str:
        """Write a date by the mine's own clock."""
        if at is None:
            return NOT_SAID
        if not isinstance(at, datetime):
            at = datetime(at.year, at.month, at.day, 12, tzinfo=self.zone)
        return day(at, self.zone)

    def taken(self, photo: PhotoTold) -> str:
        """Say when a photo was taken, or kept where its camera told no time."""
        if photo.taken_at is None:
            return _("kept {day}").format(day=self.day(photo.kept_at))
        return _("taken {day}").format(day=self.day(photo.taken_at))

    def metres(self, value_m: Decimal | None) -> str:
        """Write a length."""
        return NOT_SAID if value_m is None else metres_words(value_m, self.units)

    def span(self, from_m: Decimal, to_m: Decimal) -> str:
        """Write a stretch."""
        if from_m == to_m:
            return chainage_words(from_m, self.units)
        return span_words(from_m, to_m, self.units, " – ")

    def words(self, said: str) -> str:
        """Turn the lengths in what was put together in metres over."""
        return in_units(said, self.units)


def head_pieces(on: Laying, kind: str, name: str, below: Sequence[str]) -> Iterator[Piece]:
    """Give the head of a report, the cautions, and what is wrong with the records."""
    yield Piece(Block(HEAD_MM, lambda pen, top: _paint_head(on, pen, top, (kind, name, below))))
    for lacking in on.facts.lacking:
        yield from text_pieces(lacking, on.wide_mm, Type(9.0, bold=True), above_mm=2.0)
    for it in CAUTIONS:
        yield from text_pieces(f"· {_(it)}", on.wide_mm, Type(8.0), above_mm=0.6)


def _paint_head(on: Laying, pen: PdfPen, top: float, said: tuple[str, str, Sequence[str]]) -> None:
    kind, name, below = said
    room = on.wide_mm - CODE_MM - 12.0
    set_line(pen, cut(f"{kind} · {on.facts.mine}", 9.0, room), (EDGE_MM, top), Type(9.0))
    strong = Type(18.0 if width_mm(name, 18.0, bold=True) <= room else 11.5, bold=True)
    down = top + 5.0
    down += set_lines(pen, broken(name, strong, room, at_most=2), (EDGE_MM, down), strong) + 0.8
    for words in below:
        set_line(pen, cut(words, 9.0, room), (EDGE_MM, down), Type(9.0, colour="quiet"))
        down += line_mm(9.0)
    right, quiet_mm = EDGE_MM + on.wide_mm, quiet_zone_mm(CODE_MM)
    corner = (right - CODE_MM + quiet_mm, top - quiet_mm)
    paint_square_code(pen, on.code.payload, corner, CODE_MM)
    groups = on.code.readable.split("-")
    for number, part in enumerate((groups[:4], groups[4:])):
        place = (right, top + CODE_MM - quiet_mm + number * line_mm(SMALLEST_PT))
        set_line(pen, "-".join(part), place, Type(SMALLEST_PT, align="right"))


def fact_pieces(on: Laying, facts: Sequence[tuple[str, str]]) -> Iterator[Piece]:
    """Give facts below each other, the name of each in bold at the left."""
    for label, words in facts:
        yield Piece(_fact(on, _(label), words))


def _fact(on: Laying, label: str, words: str) -> Block:
    label_mm, kind = 42.0, Type(8.5)
    names = broken(label, Type(8.5, bold=True), label_mm - 2.0)
    lines = broken(words, kind, on.wide_mm - label_mm)

    def paint(pen: PdfPen, top: float) -> None:
        set_lines(pen, names, (EDGE_MM, top), Type(8.5, bold=True))
        set_lines(pen, lines, (EDGE_MM + label_mm, top), kind)

    return Block(max(len(lines), len(names)) * line_mm(8.5) + 0.8, paint)


def chart_pieces(on: Laying, charts: Sequence[Chart]) -> Iterator[Piece]:
    """Give charts in two columns; those of which nothing was read are left out."""
    shown = [it for it in charts if it.has_values]
    wide = (on.wide_mm - GUTTER_MM) / 2
    for first in range(0, len(shown), 2):
        pair = shown[first : first + 2]

        def paint(pen: PdfPen, top: float, pair: Sequence[Chart] = pair) -> None:
            for number, chart in enumerate(pair):
                corner = (EDGE_MM + number * (wide + GUTTER_MM), top)
                paint_chart(pen, chart, corner, (wide, CHART_MM))

        yield Piece(Block(CHART_MM, paint), above_mm=3.0)


def photo_pieces(on: Laying, photos: Sequence[tuple[str, PhotoTold]]) -> Iterator[Piece]:
    """Give photos in two columns, each with its words below it."""
    for first in range(0, len(photos), 2):
        yield Piece(_photos(on, photos[first : first + 2]), above_mm=1.5)


def _photos(on: Laying, pair: Sequence[tuple[str, PhotoTold]]) -> Block:
    wide = (on.wide_mm - GUTTER_MM) / 2
    opened = [_jpeg(on, photo, wide) for _words, photo in pair]
    high = max(it.high_mm for it in opened)

    def paint(pen: PdfPen, top: float) -> None:
        for number, ((words, _photo), it) in enumerate(zip(pair, opened, strict=True)):
            x = EDGE_MM + number * (wide + GUTTER_MM)
            if it.content:
                pen.picture(it.content, (x, top), (it.wide_mm, it.high_mm))
            else:
                pen.stroke(
                    box((x, top), (it.wide_mm, it.high_mm)), Line("outline", 0.2), closed=True
                )
                set_line(pen, it.instead, (x + 2.0, top + 2.0), Type(8.0, colour="quiet"))
            below = cut(words, SMALLEST_PT, wide)
            set_line(pen, below, (x, top + high + 0.6), Type(SMALLEST_PT, colour="quiet"))

    return Block(high + 0.6 + line_mm(SMALLEST_PT), paint)


@dataclass(frozen=True)
class _Picture:
    content: bytes
    wide_mm: float
    high_mm: float
    instead: str = ""


def _jpeg(on: Laying, photo: PhotoTold, wide_mm: float) -> _Picture:
    """Give a photo in no more pixels than are printed."""
    path = on.picture_of(photo.name)
    nothing = _Picture(b"", wide_mm, 8.0, _("This photo has not reached this machine."))
    if path is None:
        return nothing
    on.pages("").tell("opening photos", 0, 0)
    try:
        picture = photo_seen(path, round(wide_mm * DOTS_A_MM)).picture
    except NoPhoto as unread:
        return _Picture(b"", wide_mm, 8.0, sentence(_(unread.reason)))
    share = min(wide_mm / picture.width, PHOTO_MM / picture.height)
    size_mm = (picture.width * share, picture.height * share)
    picture.thumbnail((round(size_mm[0] * DOTS_A_MM), round(size_mm[1] * DOTS_A_MM)))
    kept = BytesIO()
    picture.save(kept, "JPEG", quality=JPEG_QUALITY, optimize=True)
    return _Picture(kept.getvalue(), *size_mm)


def part(title: str, pieces: Sequence[Piece]) -> Iterator[Piece]:
    """Put a title over a part of a report."""
    yield title_piece(_(title))
    yield from pieces
