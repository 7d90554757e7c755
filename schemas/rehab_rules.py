"""What the mine's standard says of damage: how grave, how soon repaired, what entry is meanwhile.

The priority is looked up in the mine's own table, by severity and exposure: never reckoned as
a product of ranks.
"""

from typing import Literal

from pydantic import Field

from schemas.numbers import Factor
from schemas.part import Part

Holds = Literal["no entry", "restricted", "open"]
"""What entry beneath damage is: nobody at all, nobody on foot, or as it was."""


class Severity(Part):
    """A step of damage, in the words of the mine's own card. Listed from mild to grave."""

    code: str
    words: str
    because: str = Field(min_length=3)


class Exposure(Part):
    """How much people are beneath a place, in the mine's own words."""

    code: str
    words: str
    because: str = Field(min_length=3)


class RehabPriority(Part):
    """How soon a repair is due, and what entry is meanwhile. Listed from the most urgent."""

    code: str
    trigger: str
    entry: str
    holds: Holds | None = None
    """What `entry` says, as the entry state counts it; None in a standard from before."""
    due_days: int = Field(ge=0, le=3_650)
    because: str = Field(min_length=3)


class MatrixCell(Part):
    """One place of the table: damage so grave, people so much beneath it, this priority."""

    severity: str
    exposure: str
    priority: str
    because: str = Field(min_length=3)


class GrowthRule(Part):
    """When damage that is seen again has grown, and by how many priorities that raises it."""

    grown_by: Factor = Field(gt=0)
    """Share of what was measured first: 0.25 is a quarter more."""
    raises: int = Field(ge=1, le=9)
    because: str = Field(min_length=3)


class RehabRule(Part):
    """What a repair must reach, and what a patch lets go until the support is restored."""

    lap_openings_at_least: int = Field(ge=1, le=20)
    """Lap of new mesh onto sound old mesh, beyond the damage."""
    patched_holds: Holds
    """What entry is beneath a patch that somebody verified."""
    because: str = Field(min_length=3)
