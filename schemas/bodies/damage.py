"""Damage to the support, as it was seen once.

One observation is one entry. Damage that is seen again is another observation that names the
first one's id, so that two tablets that saw the same tear agree: one damage, two observations.
What nobody looked at or knows is None.
"""

from typing import Literal

from pydantic import AwareDatetime, Field

from schemas.bodies.in_heading import InHeading
from schemas.identifiers import Sha256
from schemas.numbers import Chainage, Metres, Millimetres, Offset, SquareMetres, Tonnes
from schemas.part import Part

DamageZone = Literal[
    "left wall", "left shoulder", "back", "right shoulder", "right wall", "floor", "face"
]
DamageKind = Literal[
    "torn mesh",
    "bagged mesh",
    "lap open",
    "rusted",
    "plate gone",
    "bolt broken",
    "bolt pulled",
    "shotcrete drummy",
    "shotcrete cracked",
    "vehicle hit",
    "bolt loose",
    "shotcrete weak",
    "other",
]
RockBehind = Literal["tight", "loose", "gone", "can't see"]
Cause = Literal["rust", "blasting", "stress", "vehicle", "installation", "water", "other"]
Age = Literal["fresh", "days", "months", "years"]
How = Literal["eye", "tape", "photo"]


class ReadMillimetres(Part):
    """A length as it was read."""

    value_mm: Millimetres
    how: How
    u95_mm: Millimetres | None = None
    """Half of the interval that holds the truth in 95 of 100 cases; None: not known."""
    measurement: str | None = None
    """Id of the measurement on a photo that gave it."""


class ReadMetres(Part):
    """A height as it was read."""

    value_m: Metres
    how: How
    u95_m: Metres | None = None
    measurement: str | None = None


class ReadSquareMetres(Part):
    """An area as it was read."""

    value_m2: SquareMetres
    how: How
    u95_m2: SquareMetres | None = None
    measurement: str | None = None


class ReadTonnes(Part):
    """A mass as it was judged."""

    value_t: Tonnes
    how: How
    u95_t: Tonnes | None = None


class DamageExtent(Part):
    """How large it is, as far as anybody measured."""

    openings: int | None = Field(default=None, ge=0, le=2_000)
    """Openings of the mesh along the longer side of a hole, counted."""
    length: ReadMillimetres | None = None
    """The longer side of a hole, or along the crack or lap."""
    width: ReadMillimetres | None = None
    area: ReadSquareMetres | None = None
    bag_depth: ReadMillimetres | None = None
    """How far mesh hangs below the rock."""
    loose_mass: ReadTonnes | None = None
    """Of the broken rock that the mesh carries."""
    above_floor: ReadMetres | None = None
    """Its lower edge above the floor where people walk."""


class DecidedPriority(Part):
    """What a geotechnical engineer decided in place of the table, and why."""

    priority: str
    because: str = Field(min_length=3, max_length=400)


class Damage(InHeading):
    """One observation of damage in one heading."""

    heading: str
    seen_at: AwareDatetime
    chainage_m: Chainage
    to_m: Chainage | None = None
    """Where it ends; None: at one place."""
    s_m: Offset | None = None
    """Along the rock from the crown, looking toward the face, left negative."""
    zone: DamageZone
    kind: DamageKind
    extent: DamageExtent = DamageExtent()
    severity: str | None = None
    """Code of the standard's own card."""
    exposure: str | None = None
    """Code of the standard's own list."""
    rock_behind: RockBehind | None = None
    cause: Cause | None = None
    age: Age | None = None
    """How old it looks."""
    photos: tuple[str, ...] = Field(default=(), max_length=50)
    """Ids of its photos."""
    standard: Sha256 | None = None
    """Revision of the standard by which the person judged it; None: there was none."""
    again: str | None = None
    """Id of the first observation of the damage that is seen again here."""
    decided: DecidedPriority | None = None
    note: str = Field(default="", max_length=400)
