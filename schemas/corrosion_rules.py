"""What the mine's standard says of rust: the grades of its card, rates, and what must be left."""

from typing import Literal

from pydantic import Field

from schemas.numbers import Factor, Micrometres, MicrometresPerYear, Share
from schemas.part import Part

Corrosivity = Literal["C1", "C2", "C3", "C4", "C5", "CX"]
"""Category of the air and water of a place (ISO 9223:2012, Table 1)."""
Steel = Literal["bar", "tube", "wire", "plate"]


class CorrosionGrade(Part):
    """A step of rust that is seen, in the words of the mine's own card: 0 is as new."""

    grade: int = Field(ge=0, le=5)
    words: str
    cue: str
    """By what it is told from the step below."""
    share_left: Share | None = None
    """Of its capacity that a bolt of this grade has left, at most; None: nobody said."""
    because: str = Field(min_length=3)


class CorrosionRate(Part):
    """What steel and zinc lose a year, on each surface, where nothing was read yet."""

    corrosivity: Corrosivity
    steel_um_per_year: MicrometresPerYear
    zinc_um_per_year: MicrometresPerYear
    because: str = Field(min_length=3)


class SteelLeft(Part):
    """The least share of its capacity that a part may be left with, and its zinc when new."""

    of: Steel
    share_at_least: Factor = Field(gt=0, le=1)
    zinc_um: Micrometres
    """On each surface when it was put up; 0: it was not galvanised."""
    because: str = Field(min_length=3)


class CorrosionRule(Part):
    """From which visible grade (0 to 5) a bolt no longer counts, and how rust is judged."""

    bolt_counts_below_grade: int = Field(ge=1, le=5)
    because: str = Field(min_length=3)
    grades: tuple[CorrosionGrade, ...] = Field(default=(), max_length=6)
    rates: tuple[CorrosionRate, ...] = Field(default=(), max_length=6)
    left: tuple[SteelLeft, ...] = Field(default=(), max_length=4)
