"""A condition walk: what one person saw of one heading on one outing, section by section.

A walk that goes on tomorrow, or by somebody else, is another walk: what is known of a section
is everything that was ever seen of it, so that two people never have to agree on one record.
What nobody looked at is None.
"""

from typing import Literal

from pydantic import AwareDatetime, Field

from schemas.bodies.damage import DamageZone
from schemas.corrosion_rules import Steel
from schemas.identifiers import Sha256
from schemas.numbers import Chainage, Millimetres, Offset
from schemas.part import Part

Answer = Literal["nothing new", "something new", "not reached"]
NotReached = Literal[
    "stored material", "vehicle or machine", "water", "closed off", "too high", "no light", "other"
]
SupportPart = Literal["bolts", "plates", "mesh", "laps", "straps", "shotcrete", "rock"]
Water = Literal["dry", "damp", "dripping", "flowing"]
Scats = Literal["none", "a few", "many"]
DamageSaid = Literal["as it was", "worse", "repaired", "not seen"]
Between = Literal["walls", "back and floor", "crack"]


class PartSeen(Part):
    """The state of one part of the support at one place, by the standard's own cards."""

    part: SupportPart
    zone: DamageZone
    chainage_m: Chainage | None = None
    """None: all along the section."""
    s_m: Offset | None = None
    severity: str | None = None
    """Code of the standard's own card of damage."""
    corrosion_grade: int | None = Field(default=None, ge=0, le=5)
    count: int | None = Field(default=None, ge=0, le=2_000)
    """How many are so."""
    bag_depth_mm: Millimetres | None = None
    """How far mesh hangs below the rock."""


class ZoneSeen(Part):
    """What was said of a zone as a whole."""

    zone: DamageZone
    water: Water | None = None
    scats: Scats | None = None
    """Small loose rock, in the mesh or on the floor beneath."""


class SteelRead(Part):
    """A thickness of steel that was read with a calliper or gauge."""

    steel: Steel
    part: SupportPart
    zone: DamageZone
    chainage_m: Chainage
    s_m: Offset | None = None
    original_mm: Millimetres = Field(gt=0)
    """When it was new: diameter of a bar or wire, wall of a tube, thickness of a plate."""
    read_mm: Millimetres
    u_mm: Millimetres
    """Standard uncertainty of the reading."""
    how: Literal["calliper", "thickness gauge", "photo"]
    zinc_seen: bool | None = None
    """Whether zinc is still there."""
    read_at: AwareDatetime | None = None
    """When it was touched on the tablet, which may be later than it was read; None: it was
    written down elsewhere, or before this was kept."""
    read_twice: bool | None = None
    """Whether it was read once more and is so, though it is out of reason; None: nobody said."""


class DistanceRead(Part):
    """A distance that tells whether rock moves: read again at the same place each time."""

    station: str = Field(min_length=1, max_length=40)
    """What the place is called, as it is painted there."""
    between: Between
    chainage_m: Chainage
    read_mm: Millimetres
    u_mm: Millimetres
    read_at: AwareDatetime | None = None
    """When it was touched on the tablet, as that of steel is."""
    read_twice: bool | None = None
    """As of steel: read once more, though it moved farther than rock does between two walks."""


class OpenDamageSeen(Part):
    """What was said of damage that was open where somebody walked; it stays open all the same."""

    damage: str
    """Id of its first observation."""
    said: DamageSaid


class SectionSeen(Part):
    """One section, answered once."""

    from_m: Chainage
    to_m: Chainage
    at: AwareDatetime
    answer: Answer
    not_reached: NotReached | None = None
    """Why, where it could not be reached."""
    in_full: tuple[DamageZone, ...] = Field(default=(), max_length=7)
    """Zones of it that were drawn to be answered in full, and were."""
    parts: tuple[PartSeen, ...] = Field(default=(), max_length=200)
    zones: tuple[ZoneSeen, ...] = Field(default=(), max_length=7)
    steel: tuple[SteelRead, ...] = Field(default=(), max_length=100)
    distances: tuple[DistanceRead, ...] = Field(default=(), max_length=50)
    damages: tuple[str, ...] = Field(default=(), max_length=50)
    """Ids of damage that was recorded on the spot."""
    first_look: bool = False
    """Whether nobody had looked at all of it before: "nothing new" then says that no damage is
    there, "something new" that something is. False: compared with last time, or nobody said."""
    unanswered: tuple[str, ...] = Field(default=(), max_length=210)
    """What was begun here and not answered, in words: the section was not looked at whole, and
    stays due. Empty: answered whole, or kept before this was asked."""
    open_damage: tuple[OpenDamageSeen, ...] = Field(default=(), max_length=200)
    """What was said of damage that was known before; empty: nobody was asked, or none was."""
    photo: str | None = None
    """Id of the photo from the place where it is taken each time."""
    note: str = Field(default="", max_length=400)


class LookedAt(Part):
    """What came of a drawn sample in one stratum: bolts or bays."""

    of: Literal["bolts", "bays"]
    stratum: str = Field(min_length=1, max_length=100)
    there: int = Field(ge=0, le=100_000)
    drawn: int = Field(ge=0, le=100_000)
    looked_at: int = Field(ge=0, le=100_000)
    not_reached: int = Field(default=0, ge=0, le=100_000)
    bad: int = Field(ge=0, le=100_000)


class Walk(Part):
    """What one outing saw of one heading."""

    heading: str
    month: str = Field(pattern="^[0-9]{4}-(0[1-9]|1[0-2])$")
    """The month whose plan it works on: also what its draws begin from."""
    began_at: AwareDatetime
    ended_at: AwareDatetime
    sections: tuple[SectionSeen, ...] = Field(min_length=1, max_length=2_000)
    looked_at: tuple[LookedAt, ...] = Field(default=(), max_length=100)
    rechained_by_m: Offset | None = None
    """What is added to every chainage here to get today's; None: read as it is."""
    standard: Sha256 | None = None
    """Revision of the standard whose cards were shown."""
    note: str = Field(default="", max_length=400)
