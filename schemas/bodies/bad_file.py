"""A tablet says that a file of the share stays bad or missing: whoever holds it mends that."""

from typing import Literal

from pydantic import AwareDatetime, Field

from schemas.bodies.photo import Month
from schemas.bodies.receipt import HeldSegment
from schemas.identifiers import Sha256
from schemas.part import Part


class PhotoFile(Part):
    """The name of one photograph's file."""

    month: Month
    sha256: Sha256
    ending: Literal["jpg", "png", "webp"]


class BadFile(Part):
    """The author, a tablet, met bytes in the share that do not fit their file's name, or no file.

    It names a segment or a photo. A revision of it says that the same tablet has read the
    file well since. It proves nothing: whoever holds the bytes looks before putting them.
    """

    segment: HeldSegment | None = None
    photo: PhotoFile | None = None
    since: AwareDatetime
    """When it was first met bad or missed, by the tablet's clock."""
    tries: int = Field(ge=1)
    """So often it was looked for, and was bad or not there each time."""
    good_again: bool = False
