"""A deviation that the geotechnical engineer grants before the sign-off."""

from pydantic import AwareDatetime, Field

from schemas.part import Part


class Deviation(Part):
    """One check, one place, one round, until the round ends or the time is up."""

    round: str
    check: str
    row: int | None = Field(default=None, ge=1)
    position: int | None = Field(default=None, ge=1)
    reason: str = Field(min_length=3, max_length=400)
    ends_at: AwareDatetime
