"""A photograph: the hash of its bytes, which travel beside the entries and may come later."""

from typing import Annotated, Final, Literal

from pydantic import AwareDatetime, Field

from schemas.identifiers import Sha256
from schemas.part import Part

LARGEST_BYTES: Final = 100_000_000
MediaType = Literal["image/jpeg", "image/png", "image/webp"]
ENDINGS: Final[dict[str, str]] = {
    "image/jpeg": "jpg",
    "image/png": "png",
    "image/webp": "webp",
}
Month = Annotated[str, Field(pattern="^[0-9]{4}(0[1-9]|1[0-2])$")]
"""Year and month under which a photo's file lies in a share."""


class Photo(Part):
    """One photograph, as it was taken; what is drawn over it is stated apart from it."""

    sha256: Sha256
    size_bytes: int = Field(ge=1, le=LARGEST_BYTES)
    media_type: MediaType
    month: Month
    """Year and month under which its file lies in a share."""
    taken_at: AwareDatetime | None = None
    """As its camera says."""
    written_at: AwareDatetime | None = None
    """When its file was written, where its camera does not say when it was taken: it was there
    by then. None: nobody looked, or that time can't be."""
    of: str | None = None
    """Id of the thing that it shows: a round, a notice, damage."""
