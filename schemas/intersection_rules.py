"""What a support class demands where a heading opens to another: all of it may be left out."""

from typing import Literal

from pydantic import Field

from schemas.limits import (
    AtLeastKilonewtons,
    AtLeastMetres,
    AtLeastPerSquareMetre,
    AtMostMetres,
    Curing,
    Demanded,
    GapLimit,
    LoadLimit,
)
from schemas.numbers import Metres
from schemas.part import Part

CableStep = Literal["planned", "drilled", "grouted", "plated"]


class PlanPattern(Part):
    """Where the bolts belong beneath an intersection, in plan."""

    kind: Literal["square", "staggered"]
    bolt_spacing_m: Metres = Field(gt=0)
    """Across the heading."""
    row_spacing_m: Metres = Field(gt=0)
    """Along the heading."""
    tolerance_m: Metres
    """How much farther apart they may stand, either way."""
    because: str = Field(min_length=3)


class CableRule(Part):
    """The long bolts or cables that are put in over days. None: that is not demanded."""

    at_least: int | None = Field(default=None, ge=1, le=500)
    density: AtLeastPerSquareMetre | None = None
    length: AtLeastMetres | None = None
    tension: AtLeastKilonewtons | None = None
    curing: Curing | None = None
    """Beside what the bolt itself asks; the longer counts."""
    because: str = Field(min_length=3)


class BreakawayRule(Demanded):
    """How far the cables must be, and signed for, before the breakaway is taken."""

    step: Literal["drilled", "grouted", "plated"]


class IntersectionRule(Part):
    """The pattern of an intersection, and the limits that it is judged by in plan."""

    span: AtMostMetres | None = None
    """Of the largest circle within its outline."""
    pattern: PlanPattern | None = None
    bolts_present: Demanded | None = None
    largest_gap: GapLimit | None = None
    """Its centre lies within the outline."""
    density: AtLeastPerSquareMetre | None = None
    load: LoadLimit | None = None
    """Of what the class demands of its back."""
    cables: CableRule | None = None
    breakaway: BreakawayRule | None = None
