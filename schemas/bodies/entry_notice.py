"""What a person decided about entry: stricter by anyone, milder only by who may."""

from typing import Literal

from pydantic import AwareDatetime, Field

from schemas.bodies.in_heading import InHeading
from schemas.bodies.person import Role
from schemas.numbers import Chainage

NoticeWhat = Literal["no entry", "restricted", "barrier up", "inspected", "lifted"]


class EntryNotice(InHeading):
    """One statement about entry to a stretch of a heading.

    Prohibitions never end by a clock: *lifted* names what is lifted, by whom, and that the
    barrier is down. Only a restriction that is a permission may carry `until`.
    """

    heading: str
    what: NoticeWhat
    from_m: Chainage
    to_m: Chainage | None = None
    """None: up to the face and whatever lies beyond."""
    restricted_to: str | None = None
    until: AwareDatetime | None = None
    reason: str | None = None
    role: Role | None = None
    """Role in which it was stated; None where nobody was signed in."""
    anyone_inbye: bool | None = None
    """Answer to "is anyone inbye?"; None: not asked or not known yet."""
    lifts: tuple[str, ...] = Field(default=(), max_length=50)
    """Ids of the notices or events that this one ends."""
    barrier_down: bool | None = None
    photo: str | None = None
