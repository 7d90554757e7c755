"""An intersection or turnout: where a drive leaves another, held by long bolts or cables.

One thing with revisions: planned, then drilled, grouted and plated over days. Each step is a
revision that names the one before. One that says *plated* is signed by a shift supervisor or
engineer who put none of it in.
"""

from typing import Final, Literal

from pydantic import AwareDatetime, Field

from schemas.bodies.in_heading import InHeading
from schemas.bodies.person import Role
from schemas.bodies.round import Method
from schemas.identifiers import PublicKey, Sha256, Signature
from schemas.intersection_rules import CableStep
from schemas.numbers import Chainage, Kilonewtons, Metres, Offset
from schemas.part import Part

__all__ = ["CableStep", "Corner", "Intersection", "PlanBolt", "PlanCable"]

MOST_CORNERS: Final = 60


class Corner(Part):
    """A corner of the opening in plan."""

    x_m: Offset
    """Along the heading, inbye of where the opening begins."""
    y_m: Offset
    """To the right of the heading's centre line, looking toward the face."""


class PlanBolt(Corner):
    """A bolt of its pattern, where it stands in plan."""

    method: Method = "assumed"
    plate: Literal["seated", "loose", "missing"] | None = None
    """None: nobody looked."""


class PlanCable(Corner):
    """A long bolt or cable, where it stands in plan, and what was told of it."""

    method: Method = "assumed"
    length_m: Metres | None = None
    batch: str = Field(default="", max_length=60)
    """Of its grout."""
    tension_kn: Kilonewtons | None = None


class Intersection(InHeading):
    """Where a heading opens to another, by which pattern it is held, and how far that is."""

    heading: str
    from_m: Chainage
    to_m: Chainage
    corners: tuple[Corner, ...] = Field(default=(), max_length=MOST_CORNERS)
    """Of its outline in plan, one after the other."""
    corners_method: Method = "assumed"
    crown_m: Metres | None = None
    """How much higher the back is in its middle than at its edge; None: nobody measured it, and it
    is judged flat."""
    bolts: tuple[PlanBolt, ...] = Field(default=(), max_length=500)
    """Of its own pattern, those that were seen."""
    cables_at: tuple[PlanCable, ...] = Field(default=(), max_length=500)
    """The cables that were seen."""
    support_class: str = Field(min_length=1, max_length=20)
    """Code of the class by whose pattern it is held."""
    cable: str = Field(min_length=1, max_length=20)
    """Code of the class's long bolt or cable that is put in over days."""
    cables: int = Field(ge=1, le=500)
    """How many are demanded."""
    step: CableStep
    count: int = Field(default=0, ge=0, le=500)
    """How many this step was done for by then, those of earlier days among them."""
    at: AwareDatetime
    """When the last of them was."""
    installers: tuple[str, ...] = Field(default=(), max_length=50)
    """Ids of those who put them in: they can't say that it is plated."""
    role: Role | None = None
    """Of whoever says that it is plated."""
    note: str = Field(default="", max_length=400)
    standard: Sha256 | None = None
    """Revision hash of the standard that was shown to whoever stated it; None: nobody said."""
    refused_because: str = Field(default="", max_length=400)
    """Why somebody who looked at the cables did not let them count; the next step clears it."""
    corrected_because: str | None = Field(default=None, min_length=3, max_length=400)
    """Why it was put right: what was stated before of its place, outline and number is void."""
    public_key: PublicKey | None = None
    signature: Signature | None = None
    """Of whoever says that it is plated, over the whole line; None in every other step."""
