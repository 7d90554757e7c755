"""Somebody looked into why a person had to go beyond the last row of a round."""

from pydantic import Field

from schemas.bodies.person import Role
from schemas.part import Part


class LookedInto(Part):
    """What was found. It takes the round from the top of the board and opens nothing."""

    heading: str
    round: str
    reason: str | None = Field(default=None, max_length=200)
    """As it was stated with the round; None: without one. Another reason is another matter."""
    found: str = Field(min_length=1, max_length=200)
    role: Role
