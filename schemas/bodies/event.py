"""Something that happened to the ground. Any event withdraws entry within its radius at once.

A stripping is one too: it takes away the support of a stretch, and nothing but new support that
is accepted gives that back.
"""

from typing import Literal, Self

from pydantic import AwareDatetime, Field, model_validator

from schemas.bodies.in_heading import InHeading
from schemas.numbers import Chainage, Metres
from schemas.part import Part
from schemas.standard import EventWhat, Zone

Happened = Literal[EventWhat, "stripped"]


class Stripped(Part):
    """Where rock was taken away together with the support that stood in it."""

    to_m: Chainage
    """The inbye end of the stretch; it begins where the event happened."""
    zones: tuple[Zone, ...] = Field(default=(), max_length=5)
    """None named: all around the drive."""
    depth_m: Metres | None = None
    """How far the rock was taken back; None: nobody said."""


class Event(InHeading):
    """What happened, where and when."""

    heading: str
    what: Happened
    at: AwareDatetime
    chainage_m: Chainage
    radius_m: Metres
    """Entry is withdrawn this far in and out."""
    excluded_until: AwareDatetime
    """The exclusion ends then *and* after an inspection."""
    fired_m: Metres | None = None
    """Metres advanced, when it was a firing."""
    stripped: Stripped | None = None
    """What was taken away, when it was a stripping."""
    round: int | None = Field(default=None, ge=1)
    opens: str | None = None
    """Id of the intersection whose breakaway it was."""
    note: str = Field(default="", max_length=400)

    @model_validator(mode="after")
    def _stripping_names_its_stretch(self) -> Self:
        if (self.what == "stripped") != (self.stripped is not None):
            raise ValueError("a stripping says from where to where, and nothing else does")
        if self.stripped is not None and self.stripped.to_m <= self.chainage_m:
            raise ValueError("a stripping ends inbye of where it begins")
        return self
