"""A deviation that the geotechnical engineer grants before the sign-off, signed with their key."""

from pydantic import AwareDatetime, Field

from schemas.identifiers import PublicKey, Signature
from schemas.part import Part


class Deviation(Part):
    """One check, one place, one round, until the round ends or the time is up."""

    round: str
    check: str
    row: int | None = Field(default=None, ge=1)
    position: int | None = Field(default=None, ge=1)
    reason: str = Field(min_length=3, max_length=400)
    ends_at: AwareDatetime
    public_key: PublicKey | None = None
    signature: Signature | None = None
    """None: granted without a sign code, by an older version; such a one covers nothing."""
