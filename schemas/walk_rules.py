"""What the mine's standard says of condition walks: how often, how much of it, what is drawn."""

from decimal import Decimal
from typing import Literal

from pydantic import Field

from schemas.corrosion_rules import Corrosivity
from schemas.numbers import Factor, Metres
from schemas.part import Part

AqlPercent = Literal["0.65", "1.0", "1.5", "2.5", "4.0", "6.5"]


class WalkInterval(Part):
    """A shorter or longer interval where everything that it names holds; None: whatever it is.

    Of several that hold, the shortest counts; where none does, the rule's own interval.
    """

    support_class: str | None = None
    corrosivity_from: Corrosivity | None = None
    """This category or a worse one."""
    exposure: str | None = None
    """Code of the standard's own list of exposures: how much people are beneath."""
    corrosion_from: int | None = Field(default=None, ge=0, le=5)
    """The worst grade of rust that was seen there last: this one or a worse."""
    severity_from: str | None = None
    """The worst severity that was seen there last, by code of the card: this or a graver one."""
    interval_days: int = Field(ge=1, le=3_650)
    because: str = Field(min_length=3)


class LookedAtShare(Part):
    """How many bolts or bays of a drive are looked at before "none found" means something."""

    of: Literal["bolts", "bays"]
    confidence: Factor = Field(gt=0, lt=1)
    bad_share_at_most: Factor = Field(gt=0, lt=1)
    aql_percent: AqlPercent | None = None
    """Acceptable quality level of an ISO 2859-1 plan of level II beside it; None: no plan."""
    because: str = Field(min_length=3)


class WalkRule(Part):
    """How often supported ground is walked, and how much of it is looked at in full."""

    interval_days: int = Field(ge=1, le=3_650)
    full_zones_in_ten_sections: int = Field(ge=0, le=60)
    because: str = Field(min_length=3)
    section_m: Metres = Field(default=Decimal(10), gt=0)
    """Length of one section along the drive."""
    photo_every: int = Field(default=5, ge=1, le=1_000)
    """Every how many sections a photo is taken again from the same place."""
    intervals: tuple[WalkInterval, ...] = Field(default=(), max_length=60)
    looked_at: tuple[LookedAtShare, ...] = Field(default=(), max_length=10)
