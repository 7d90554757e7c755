"""What the support of a class must carry, as its engineer states it, and the rock behind it."""

from typing import Literal

from pydantic import Field

from schemas.numbers import (
    Factor,
    KilogramsPerCubicMetre,
    KilojoulesPerSquareMetre,
    Kilopascals,
    Metres,
    MetresPerSecond,
    Rating,
)
from schemas.part import Part

PressureBy = Literal["stated", "weight of loosened rock", "Barton 1974, with Jn", "Barton, 200/Jr"]
"""Whence the pressure comes. Barton's two forms differ: a standard says which it rests on."""


class RockRating(Part):
    """The six ratings of the Q-system. None has a unit but RQD."""

    rqd_percent: Rating = Field(le=100)
    jn: Rating = Field(gt=0)
    jr: Rating = Field(gt=0)
    ja: Rating = Field(gt=0)
    jw: Rating = Field(gt=0)
    srf: Rating = Field(gt=0)


class RockMass(Part):
    """The rock that a class is meant for. It decides nothing unless a demand is stated by it."""

    density_kg_per_m3: KilogramsPerCubicMetre = Field(gt=0)
    block_m: Metres | None = None
    """Width of the blocks that can come loose."""
    rating: RockRating | None = None
    esr: Factor | None = Field(default=None, gt=0)
    """Excavation support ratio of the Q-system: what the drive is for."""
    intersection: bool = False
    because: str = Field(min_length=3)


class EnergyDemand(Part):
    """What burst-prone ground throws at the support: stated, or of rock thrown out so thick."""

    energy_kj_per_m2: KilojoulesPerSquareMetre | None = None
    ejected_m: Metres | None = None
    """Thickness of rock that is thrown out."""
    velocity_m_per_s: MetresPerSecond | None = None
    yield_travel_m: Metres | None = None
    """How far the support yields: in the back the rock falls on through it."""
    because: str = Field(min_length=3)


class GroundDemand(Part):
    """What a perfect pattern must carry in the back, or on the walls."""

    pressure_by: PressureBy = "stated"
    pressure_kpa: Kilopascals | None = None
    """Where it is stated; None: no pressure is demanded, or it comes from elsewhere."""
    loosened_m: Metres
    energy: EnergyDemand | None = None
    because: str = Field(min_length=3)


class SupportDemand(GroundDemand):
    """What a perfect pattern must carry: in the back with its shoulders, and on the walls.

    Stated by the engineer, or left out.
    """

    walls: GroundDemand | None = None
    """None: nothing is demanded of the walls."""
