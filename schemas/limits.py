"""The forms a limit can take: the bound, what a breach means, and the reason for it.

Every limit carries its *because* (clause, or "common practice") and what a breach means; a
measured one also the guard factor of its decision rule (JCGM 106:2012, 8.3.2). A breach may
have two steps where the grave one starts later.
"""

from decimal import Decimal
from typing import ClassVar, Literal, cast

from pydantic import Field

from schemas.findings import Breach
from schemas.numbers import (
    Degrees,
    Factor,
    Hours,
    Kilonewtons,
    KilonewtonsPerCubicMetre,
    Metres,
    Millimetres,
    NewtonMetres,
    PerSquareMetre,
    SquareMetres,
    Tonnes,
)
from schemas.part import Part

Sense = Literal["at most", "at least"]


class Demanded(Part):
    """Something that must have been done, or be so. Every other limit adds its bound."""

    because: str = Field(min_length=3)
    breach: Breach


class Measured(Demanded):
    """A bound on one measured value. A subclass names the fields that hold the bounds."""

    bound_field: ClassVar[str]
    grave_field: ClassVar[str | None] = None
    unit: ClassVar[str]
    sense: ClassVar[Sense] = "at most"

    guard_factor: Factor = Field(
        description="k in limit ± k·u: how far inside the limit a reading must be"
    )

    @property
    def bound(self) -> Decimal:
        """The limit, in `unit`."""
        return cast("Decimal", getattr(self, self.bound_field))

    @property
    def grave_bound(self) -> Decimal | None:
        """Where the breach becomes *no entry*, in `unit`; None where it never does."""
        return None if self.grave_field is None else getattr(self, self.grave_field)


class AtMostMetres(Measured):
    """A length that may not be longer."""

    bound_field = "at_most_m"
    grave_field = "no_entry_above_m"
    unit = "m"

    at_most_m: Metres
    no_entry_above_m: Metres | None = None


class AtLeastMetres(Measured):
    """A length that may not be shorter."""

    bound_field = "at_least_m"
    unit = "m"
    sense = "at least"

    at_least_m: Metres


class AtMostDegrees(Measured):
    """An angle off the normal to the rock that may not be larger."""

    bound_field = "at_most_deg"
    unit = "°"

    at_most_deg: Degrees


class AtLeastMillimetres(Measured):
    """A thickness or width that may not be less."""

    bound_field = "at_least_mm"
    grave_field = "no_entry_below_mm"
    unit = "mm"
    sense = "at least"

    at_least_mm: Millimetres
    no_entry_below_mm: Millimetres | None = None


class AtLeastPerSquareMetre(Measured):
    """Bolts per square metre that may not be fewer."""

    bound_field = "at_least_per_m2"
    unit = "per m²"
    sense = "at least"

    at_least_per_m2: PerSquareMetre


class LoadLimit(Measured):
    """What the support that is there must carry, as a multiple of what the class demands."""

    bound_field = "at_least_factor"
    grave_field = "no_entry_below_factor"
    unit = "× the demand"
    sense = "at least"

    at_least_factor: Factor
    no_entry_below_factor: Factor | None = None


class GapLimit(Measured):
    """The largest circle without a bolt: *plated* bolts for rework, *anchored* for no entry."""

    bound_field = "at_most_m"
    grave_field = "no_entry_above_m"
    unit = "m"

    at_most_m: Metres
    no_entry_above_m: Metres


class LapLimit(AtLeastMillimetres):
    """The least lap: in openings as it is counted, in millimetres as it is taped."""

    at_least_openings: int = Field(ge=1, le=20)


class PlateLimit(Demanded):
    """How far a plate may stand off and still be seated."""

    at_most_gap_mm: Millimetres


class TorqueLimit(Measured):
    """Torque at installation, on the bolts that the rule names."""

    bound_field = "at_least_nm"
    unit = "N·m"
    sense = "at least"

    rule: Literal["first, every nth and last", "first, then one in n"]
    n: int = Field(ge=2, le=1_000)
    at_least_nm: NewtonMetres
    at_most_nm: NewtonMetres


class ReachLimit(Measured):
    """How far the mesh must go: to the face, and down both walls."""

    bound_field = "to_face_at_most_m"
    unit = "m"

    to_face_at_most_m: Metres
    above_floor_at_most_m: Metres


class AtMostKilonewtons(Measured):
    """A force that may not be larger."""

    bound_field = "at_most_kn"
    unit = "kN"

    at_most_kn: Kilonewtons


class AtLeastKilonewtons(Measured):
    """A force that may not be smaller."""

    bound_field = "at_least_kn"
    unit = "kN"
    sense = "at least"

    at_least_kn: Kilonewtons


class CoverLimit(Measured):
    """Rock between the joint and the last row that no placed sheet covers."""

    bound_field = "at_most_m2"
    unit = "m²"

    at_most_m2: SquareMetres
    at_most_openings: int = Field(ge=0, le=20)
    """A bare place no wider than so many openings is none."""


class PanelLimit(Demanded):
    """Broken rock that one bay of mesh may have to hold, against the panel load of that mesh."""

    guard_factor: Factor = Field(
        description="k in limit ± k·u: how far inside the limit a reading must be"
    )
    loosened_m: Metres = Field(gt=0)
    """How thick the broken rock between the plates may become."""
    rock_kn_per_m3: KilonewtonsPerCubicMetre = Field(gt=0)
    """Unit weight of the broken rock."""
    rig: str = Field(min_length=3)
    """The rig whose figure this limit was set for: figures from another are never compared."""


class HoleLimit(Demanded):
    """Holes in the mesh: nobody walks under one until it is patched."""

    at_most_openings: int = Field(ge=1, le=20)
    above_floor_m: Metres


class BaggingLimit(Demanded):
    """Broken rock carried by the mesh: nobody beneath."""

    at_most_mm: Millimetres
    at_most_t: Tonnes


class Trigger(Demanded):
    """A ground condition that stops the round until the person named has been told."""

    condition: Literal["wetter", "fault or wedge", "noise", "spalling"]
    call: str = Field(min_length=2)
    """Whom to call, as the crew says it."""
    after_the_call: Breach | Literal["accept"]
    """What stands once that person has been told and has answered."""


class GroundLimit(Demanded):
    """The ground is as expected, or somebody is told."""

    triggers: tuple[Trigger, ...]


class Curing(Part):
    """When a bolt or shotcrete may be counted on: by time and by strength, the later."""

    after_h: Hours
    strength_mpa: Decimal | None = Field(default=None, gt=0, le=200)
    because: str = Field(min_length=3)
