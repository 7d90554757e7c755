"""An entry is void, with the reason. Nothing is deleted."""

from pydantic import Field

from schemas.part import Part


class Withdrawal(Part):
    """Voids one revision of one thing."""

    thing: str
    revision: str
    reason: str = Field(min_length=3, max_length=400)
