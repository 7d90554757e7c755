"""What a person drew over a photo, as data: the photo itself is never touched.

Places are shares of the photo as it is seen upright, from its left and from its top edge, so
that they hold at any size. A correction is a new revision with all the marks that stand.
"""

from typing import Annotated, Final, Literal

from pydantic import Field

from schemas.numbers import Share
from schemas.part import Part

Spot = tuple[Share, Share]
MOST_POINTS: Final = 1_500


class Arrow(Part):
    """Points at something."""

    kind: Literal["arrow"]
    from_spot: Spot
    to_spot: Spot
    """Its tip."""


class Ring(Part):
    """A circle round something."""

    kind: Literal["ring"]
    centre: Spot
    rim: Spot
    """Any place on it."""


class Outline(Part):
    """A closed line round something, such as a tear."""

    kind: Literal["outline"]
    spots: tuple[Spot, ...] = Field(min_length=3, max_length=MOST_POINTS)


class Words(Part):
    """A few words, written to the right of a place."""

    kind: Literal["words"]
    at: Spot
    text: str = Field(min_length=1, max_length=100)


Mark = Annotated[Arrow | Ring | Outline | Words, Field(discriminator="kind")]


class PhotoMarks(Part):
    """All marks on one photo, in the order in which they were drawn."""

    photo: str
    """Id of the photo."""
    marks: tuple[Mark, ...] = Field(default=(), max_length=200)
