"""A test of support: a bolt pulled or turned, or cores of shotcrete pressed.

What was read is the fact; whether it passed is worked out from the standard. What nobody read
is None.
"""

from typing import Literal

from pydantic import AwareDatetime, Field

from schemas.bodies.damage import DamageZone
from schemas.bodies.in_heading import InHeading
from schemas.identifiers import Sha256
from schemas.numbers import (
    Chainage,
    Kilonewtons,
    Megapascals,
    Millimetres,
    NewtonMetres,
    Offset,
    Seconds,
)
from schemas.part import Part

BoltTestKind = Literal["proof pull", "destructive pull", "torque", "shotcrete cores"]
Why = Literal[
    "by the standard's share",
    "change of ground",
    "change of batch",
    "new crew",
    "follows a failed test",
    "suspected",
    "other",
]


class PullReading(Part):
    """One reading of a pull: load and how far the head has come since the first."""

    load_kn: Kilonewtons
    displacement_mm: Millimetres
    after_s: Seconds | None = None
    """Since the first reading."""
    read_at: AwareDatetime | None = None
    """When it was touched on the tablet, which may be later than it was read; None: it was
    written down elsewhere, or before this was kept."""


class BoltTest(InHeading):
    """One test at one place."""

    heading: str
    kind: BoltTestKind
    tested_at: AwareDatetime
    why: Why
    chainage_m: Chainage
    s_m: Offset | None = None
    zone: DamageZone
    bolt_type: str | None = None
    """Code of the standard's own list; None for cores."""
    bolt: str | None = Field(default=None, max_length=40)
    """Which one, as it is counted: row and number."""
    round: str | None = None
    """Id of the round that it belongs to; None: not known, or none."""
    installed_at: AwareDatetime | None = None
    batch: str | None = Field(default=None, max_length=40)
    crew: str | None = Field(default=None, max_length=100)
    """Who put it in, as a crew."""
    part_of_support: bool = True
    """False: put in for the test."""
    pulled: tuple[PullReading, ...] = Field(default=(), max_length=1_000)
    held_min: int | None = Field(default=None, ge=0, le=1_440)
    """How long the load was held."""
    hold_told_at: AwareDatetime | None = None
    """When that was touched on the tablet, as a reading's `read_at` is."""
    broke: Literal["bar", "thread", "anchor slipped", "plate", "nothing"] | None = None
    torque_nm: NewtonMetres | None = None
    cores_mpa: tuple[Megapascals, ...] = Field(default=(), max_length=20)
    """Strength of each core."""
    age_days: int | None = Field(default=None, ge=0, le=36_500)
    """Of the shotcrete when it was pressed."""
    rig: str | None = Field(default=None, max_length=40)
    """Which pull rig or wrench."""
    rig_checked_at: AwareDatetime | None = None
    """When it was last calibrated."""
    tell_engineer: bool = False
    """Whether it stands on the board until somebody has stated that an engineer was told; False
    also where it was kept before that was asked."""
    after: str | None = None
    """Id of the failed test that this one follows."""
    standard: Sha256 | None = None
    """Revision of the standard by which it was made."""
    note: str = Field(default="", max_length=400)
    corrected_because: str | None = Field(default=None, min_length=3, max_length=400)
    """Why this revision puts an earlier one right; None: it is as it was stated first."""
