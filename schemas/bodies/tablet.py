"""A tablet, certified by the site's key."""

from pydantic import Field

from schemas.part import Part


class Tablet(Part):
    """One tablet and the key by which its segments are known."""

    name: str = Field(min_length=1, max_length=60)
    public_key: str = Field(pattern=r"^[0-9a-f]{64}$")
    certificate: str | None = Field(default=None, pattern=r"^[0-9a-f]{128}$")
