"""A person who may state things here, certified by the site's key."""

from typing import Literal

from pydantic import Field

from schemas.identifiers import PublicKey, Signature
from schemas.part import Part

Role = Literal[
    "bolter",
    "rehab crew",
    "shift supervisor",
    "geotechnical technician",
    "geotechnical engineer",
    "records keeper",
]

AUTHORITY: dict[Role, int] = {
    "bolter": 0,
    "rehab crew": 0,
    "records keeper": 0,
    "geotechnical technician": 1,
    "shift supervisor": 2,
    "geotechnical engineer": 3,
}
"""Who stands above whom where entry is lifted."""


class Person(Part):
    """One person, what they may do, and the key by which their signature is known."""

    name: str = Field(min_length=1, max_length=60)
    roles: tuple[Role, ...] = Field(min_length=1)
    public_key: PublicKey
    certificate: Signature
    """The site key's signature over id, public key and roles."""
    revoked: bool = False
