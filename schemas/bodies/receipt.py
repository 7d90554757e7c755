"""A tablet says which sealed segments of others it holds: only this frees what was sent."""

from typing import Final

from pydantic import Field

from schemas.identifiers import SegmentNumber, Sha256, ShortHash, TabletId
from schemas.part import Part

MOST_HELD: Final = 200
"""So many segments are named in one receipt."""


class HeldSegment(Part):
    """The name of one sealed segment: whose, which number, which bytes."""

    tablet: TabletId
    seq: SegmentNumber
    hash16: ShortHash
    """The first 16 hexadecimal digits of the SHA-256 of its bytes."""


class Receipt(Part):
    """The author, a tablet, has read these segments and photos, found them good, keeps them."""

    holds: tuple[HeldSegment, ...] = Field(default=(), max_length=MOST_HELD)
    photos: tuple[Sha256, ...] = Field(default=(), max_length=MOST_HELD)
