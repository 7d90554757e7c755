"""A tablet, certified by the site's key."""

from pydantic import Field

from schemas.identifiers import PublicKey, Signature
from schemas.part import Part


class Tablet(Part):
    """One tablet and the key by which its segments are known."""

    name: str = Field(min_length=1, max_length=60)
    public_key: PublicKey
    certificate: Signature | None = None
