"""A repair of support: one thing with revisions, from the plan to whoever verified it.

The order of work is the geotechnical engineer's: others propose one, and an engineer plans it.

From the start until somebody other than the installer has verified it the stretch is
barricaded. A revision that says *verified* is signed by that person's own key.
"""

from typing import Final, Literal

from pydantic import AwareDatetime, Field

from schemas.bodies.damage import DamageZone
from schemas.bodies.in_heading import InHeading
from schemas.bodies.person import Role
from schemas.identifiers import PublicKey, Sha256, Signature
from schemas.numbers import Chainage
from schemas.part import Part

RehabState = Literal["proposed", "planned", "in hand", "done", "verified", "refused", "reopened"]
Outcome = Literal["patched", "restored"]
MOST_PHOTOS: Final = 50


class Barricade(Part):
    """Who put up the barrier before the work began, and where it stands."""

    who: str = Field(min_length=1, max_length=60)
    where: str = Field(min_length=1, max_length=100)
    at_m: Chainage | None = None
    """None: only told in words; the repair's own beginning counts then."""


class Rehab(InHeading):
    """What is repaired, by whom, how, and who looked at it afterwards."""

    heading: str
    damages: tuple[str, ...] = Field(min_length=1, max_length=200)
    """Ids of the damage that it repairs: of each, the first observation's."""
    from_m: Chainage
    to_m: Chainage
    zones: tuple[DamageZone, ...] = Field(default=(), max_length=7)
    order_of_work: str = Field(default="", max_length=2_000)
    """In the words of the engineer, or of whoever proposed it: what is let down, bolted and
    meshed, from where, in which order."""
    state: RehabState
    parent: str | None = None
    """Id of the repair of which this is what was left to do."""
    barricade: Barricade | None = None
    crew: str | None = Field(default=None, max_length=100)
    installers: tuple[str, ...] = Field(default=(), max_length=50)
    """Ids of those who did the work: they can't verify it."""
    started_at: AwareDatetime | None = None
    """When the work was begun last: again, where it was refused or reopened."""
    finished_at: AwareDatetime | None = None
    outcome: Outcome | None = None
    """Patched: the hole is closed. Restored: it counts as support again."""
    bolts_added: int | None = Field(default=None, ge=0, le=2_000)
    materials: tuple[str, ...] = Field(default=(), max_length=50)
    lap_openings: int | None = Field(default=None, ge=0, le=40)
    """The least lap onto sound old mesh beyond the damage."""
    done_from_m: Chainage | None = None
    done_to_m: Chainage | None = None
    """What was done of it, where that is not all."""
    before: tuple[str, ...] = Field(default=(), max_length=MOST_PHOTOS)
    """Ids of photos."""
    after: tuple[str, ...] = Field(default=(), max_length=MOST_PHOTOS)
    no_photo_because: str | None = Field(default=None, max_length=200)
    """Said by whoever did the work; somebody takes one before it is verified."""
    older_photo_because: str | None = Field(default=None, max_length=200)
    """Why photos that say they are from before the work was begun show it all the same, as
    whoever did the work said; None: nobody said so."""
    standard: Sha256 | None = None
    """Revision of the standard by which it was done."""
    covers: tuple[str, ...] = Field(default=(), max_length=2_000)
    """Ids of the observations that whoever verified it knew and found repaired: what they did
    not know of stays open, whichever clock was ahead."""
    refused_because: str | None = Field(default=None, max_length=400)
    role: Role | None = None
    """Of whoever verified it."""
    barrier_down: bool | None = None
    """Said by whoever verified it."""
    public_key: PublicKey | None = None
    signature: Signature | None = None
    """Of whoever verified it, over the whole line; None while nobody has."""
