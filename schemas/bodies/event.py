"""Something that happened to the ground. Any event withdraws entry within its radius at once."""

from pydantic import AwareDatetime, Field

from schemas.numbers import Chainage, Metres
from schemas.part import Part
from schemas.standard import EventWhat


class Event(Part):
    """What happened, where and when."""

    heading: str
    what: EventWhat
    at: AwareDatetime
    chainage_m: Chainage
    radius_m: Metres
    """Entry is withdrawn this far in and out."""
    excluded_until: AwareDatetime
    """The exclusion ends then *and* after an inspection."""
    fired_m: Metres | None = None
    """Metres advanced, when it was a firing."""
    round: int | None = Field(default=None, ge=1)
    note: str = Field(default="", max_length=400)
