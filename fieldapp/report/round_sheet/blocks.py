"""What a round sheet is made from, and the blocks that it is laid out in."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime, tzinfo
from decimal import Decimal
from typing import Literal

from assets.translate import _
from fieldapp.assess.entry.state import Doubt, EntryState, UnderDeviation
from fieldapp.report.pens.pdf import A4, Paper, PdfPen
from fieldapp.report.pens.pen import Type
from fieldapp.report.round_sheet.code import SheetCode, sheet_code
from fieldapp.report.set_text import line_mm, set_line
from fieldapp.report.words.entry import EntrySaid, entry_said
from fieldapp.report.words.findings import when
from fieldapp.report.words.lengths import Units, line_words
from fieldapp.report.words.read_and_today import round_moved_m
from schemas.bodies.sign_off import SignOff
from schemas.bundle import Bundle
from schemas.findings import Assessment
from schemas.standard import SupportClass

EDGE_MM = 11.0
"""Left, right, above and below: what office printers can't print on, and a little more."""

SMALLEST_PT = 7.0
"""No letter on a sheet is smaller."""


@dataclass(frozen=True)
class RoundSheet:
    """Everything that stands on the sheet of one round. Nothing is looked up while printing."""

    mine: str
    bundle: Bundle
    assessment: Assessment
    assessment_sha256: str
    round_id: str
    round_revision: str
    recorded_by: str
    recorded_at: datetime
    tablet: str
    printed_at: datetime
    zone: tzinfo
    """Times are written in it, each with its distance from UTC."""
    demo: bool
    """Marked across the sheet: an invented mine, or a standard that is a worked example."""
    installers: tuple[str, ...] = ()
    """Names of those who installed it, where they were named."""
    doubts: tuple[Doubt, ...] = ()
    """Batches that it used and that were in doubt when the sheet was printed."""
    sign_off: SignOff | None = None
    """None: the sheet says NOT SIGNED."""
    signed_by: str | None = None
    signed_at: datetime | None = None
    entry: EntryState | None = None
    """The heading's entry state when the sheet was printed, where it is known."""
    paper: Paper = A4
    units: Units = "metres"
    """How lengths are written; the words of the assessment are in them already."""
    load: bool = False
    """A second page for engineers: the map of what each bolt carries."""

    @property
    def code(self) -> SheetCode:
        """The code that `lastrow verify` takes."""
        return sheet_code(self.round_id, self.assessment_sha256)

    @property
    def support_class(self) -> SupportClass:
        """The class that the round is judged by.

        Raises
        ------
        ValueError
            The standard has no such class: a bug, because it was assessed by it.
        """
        found = self.bundle.standard.support_class(self.bundle.round.support_class)
        if found is None:
            raise ValueError(f"{self.bundle.standard.name} has no such class")
        return found

    @property
    def under_deviation(self) -> tuple[UnderDeviation, ...]:
        """The deviations under which this round stands accepted."""
        name = self.bundle.round.name
        standing = self.entry.deviations if self.entry else ()
        return tuple(it for it in standing if it.round == name)

    @property
    def entry_line_m(self) -> Decimal | None:
        """The entry line: of the heading where it is known, else by this sign-off alone."""
        signed_m = self.sign_off.entry_line_m if self.sign_off else None
        return signed_m if self.entry is None else self.entry.line_m

    @property
    def entry_line_on_map_m(self) -> Decimal | None:
        """The entry line by the chainages of the round, in which its picture is drawn."""
        line_m, by_m = self.entry_line_m, round_moved_m(self.bundle.heading, self.bundle.round)
        return None if line_m is None else line_m - by_m

    @property
    def entry_line_words(self) -> str | None:
        """The entry line as it is said, never beyond where it is."""
        line_m = self.entry_line_m
        return None if line_m is None else line_words(line_m, self.units)

    @property
    def entry_said(self) -> EntrySaid | None:
        """The heading's entry in words, as the screens have it; None where it is not known."""
        return None if self.entry is None else entry_said(self.entry, self.units)

    @property
    def wide_mm(self) -> float:
        """Width between the edges."""
        return self.paper.wide_mm - 2 * EDGE_MM

    def time(self, at: datetime) -> str:
        """Write a time in the sheet's zone."""
        return when(at, self.zone)


Around = Literal["facts above", "facts beside", "words beside"]
"""What stands around the drive: the facts above or beside it, or facts and plain words beside."""


@dataclass(frozen=True)
class Density:
    """How closely a sheet is set.

    `drive_to` is the smallest scale at which the drive may be drawn: 100 for 1 : 100.
    """

    size_pt: float
    drive_to: int
    around: Around
    flowing: bool = False
    """The accepted findings as a paragraph."""
    in_two: bool = False
    """The other findings in two columns."""
    lines_each: int = 3
    """How many lines a finding has at most, in two columns."""


@dataclass(frozen=True)
class Block:
    """A part of the sheet across its whole width: its height, and how to paint it at a top."""

    high_mm: float
    paint: Callable[[PdfPen, float], None]


def nothing() -> Block:
    """Give a block that takes no room."""
    return Block(0.0, lambda _pen, _top: None)


def titled(title: str, block: Block, said: str = "") -> Block:
    """Put a title above a block, and a few quiet words at its right."""
    kind = Type(9.0, bold=True)
    high = line_mm(kind.size_pt) + 0.6

    def paint(pen: PdfPen, top: float) -> None:
        set_line(pen, _(title), (EDGE_MM, top), kind)
        right = pen.paper.wide_mm - EDGE_MM
        quiet = Type(SMALLEST_PT, colour="quiet", align="right")
        set_line(pen, _(said), (right, top + 0.7), quiet)
        block.paint(pen, top + high)

    return Block(high + block.high_mm, paint)


def with_more(block: Block, words: str) -> Block:
    """Say below a block, in bold, what it leaves out."""
    if not words:
        return block
    kind = Type(8.0, bold=True)

    def paint(pen: PdfPen, top: float) -> None:
        block.paint(pen, top)
        set_line(pen, _(words), (EDGE_MM, top + block.high_mm), kind)

    return Block(block.high_mm + line_mm(kind.size_pt), paint)


def stacked_mm(blocks: list[Block], apart_mm: float) -> float:
    """Say how high blocks are below each other."""
    filled = [block.high_mm for block in blocks if block.high_mm]
    return sum(filled) + apart_mm * max(0, len(filled) - 1)


def paint_stack(pen: PdfPen, blocks: list[Block], top_mm: float, apart_mm: float) -> None:
    """Paint blocks below each other."""
    for block in blocks:
        if block.high_mm:
            block.paint(pen, top_mm)
            top_mm += block.high_mm + apart_mm
