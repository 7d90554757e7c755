"""Forms that labels are printed on: a grid on A4, or a roll 62 mm wide; how far each is read."""

from dataclasses import dataclass
from math import radians, tan
from typing import Final

from fieldapp.report.pens.pdf import A4, Paper
from fieldapp.report.pens.pen import Point
from fieldapp.report.square_code import QUIET, SIDE
from schemas.trouble import BadInput

LARGEST_MODULE_MM: Final = 1.8
"""Larger is no use under ground: it is read from as far as a cap lamp lights it."""
LEAST_MODULE_MM: Final = 0.6
"""Less is not read from an arm's length through dust."""
STEP_MM: Final = 0.1
"""Modules and corners stand on it, so that each is whole dots of a picture."""

PHOTO_WIDE_PX: Final = 4_000
PHOTO_WIDE_DEG: Final = 65.0
"""A telephone's main camera: 12 megapixels, as wide as a lens of 28 mm on film."""
READ_PX: Final = 2.5
"""Pixels that a module needs; the table of reading rates in `tests/photos` measures it."""


@dataclass(eq=False)
class FormTooSmall(BadInput):
    """A label has no room for its two codes and for letters that are read from two metres."""

    wide: str
    high: str

    happened = "A label of {wide} × {high} mm is too small for two square codes and its short id."
    kept = "Nothing was printed."
    do_next = "Take fewer columns or rows, or smaller margins: 90 × 80 mm is enough."


@dataclass(eq=False)
class NoSuchPlace(BadInput):
    """The first label is to stand where the sheet has none."""

    start: int
    of: int

    happened = "The sheet has {of} labels, so none can begin at {start}."
    kept = "Nothing was printed."
    do_next = "Count from the upper left corner, line by line, beginning with 1."


@dataclass(frozen=True)
class LabelForm:
    """A sheet of labels: a plain grid. Lengths in millimetres."""

    name: str
    paper: Paper
    columns: int
    rows: int
    margin_left_mm: float
    margin_top_mm: float
    gap_across_mm: float = 0.0
    gap_along_mm: float = 0.0
    cut: bool = True
    """Whether a thin line shows where to cut."""

    @property
    def on_a_sheet(self) -> int:
        """How many labels a sheet has."""
        return self.columns * self.rows

    @property
    def wide_mm(self) -> float:
        """How wide a label is."""
        gaps = (self.columns - 1) * self.gap_across_mm
        return (self.paper.wide_mm - 2 * self.margin_left_mm - gaps) / self.columns

    @property
    def high_mm(self) -> float:
        """How high a label is."""
        gaps = (self.rows - 1) * self.gap_along_mm
        return (self.paper.high_mm - 2 * self.margin_top_mm - gaps) / self.rows

    def corner(self, number: int) -> Point:
        """Give the upper left corner of a label, counted from 0, line by line."""
        row, column = divmod(number, self.columns)
        return (
            self.margin_left_mm + column * (self.wide_mm + self.gap_across_mm),
            self.margin_top_mm + row * (self.high_mm + self.gap_along_mm),
        )


A4_FORM: Final = LabelForm("A4", A4, 1, 4, margin_left_mm=5.0, margin_top_mm=8.5)
ROLL: Final = LabelForm("roll", Paper("roll", 200.0, 62.0), 1, 1, 1.0, 1.0, cut=False)


def side_mm(module_mm: float) -> float:
    """Say how wide a symbol is with its quiet zone."""
    return module_mm * (SIDE + 2 * QUIET)


def read_from_m(module_mm: float) -> float:
    """Say from how far away a symbol is read on a photo, square on and in focus.

    Parameters
    ----------
    module_mm : float
        Width of a module. [mm]

    Returns
    -------
    float
        Distance at which a module is `READ_PX` pixels wide on the photo of a telephone's
        main camera, 4000 pixels for 65°. [m]

    Source
    ------
    Pinhole camera, closed form; how many pixels a module needs is measured in the table of
    reading rates.
    """
    px_per_mm_at_1_m = PHOTO_WIDE_PX / (2_000 * tan(radians(PHOTO_WIDE_DEG / 2)))
    return module_mm * px_per_mm_at_1_m / READ_PX
