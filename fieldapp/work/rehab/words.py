"""What is picked from a list about a repair and written down so: English, in every language."""

from typing import Final

ORDERS: Final = (
    "bar down from supported ground, patch with a sheet, plate it all round",
    "let the bag down at its lowest corner from supported ground, bar down, mesh anew",
    "bolt beside what is broken, then plate",
    "bar down what is drummy, mesh, spray again",
    "as the engineer says at the place",
)
"""Of work."""
DECIDED: Final = (
    "looked at it: graver than the card says",
    "looked at it: the rock behind is sound",
    "people no longer go there",
    "more people go there by now",
)
"""Why an engineer sets another priority."""
MATERIALS: Final = (
    "a sheet of mesh",
    "a strip of mesh",
    "plates",
    "straps",
    "shotcrete",
    "a cable",
    "resin",
)
"""Put in beside bolts."""
NO_PHOTO: Final = (
    "the camera failed",
    "no camera was there",
    "too much dust or water",
)
"""Why no photo shows what was done."""
CLOCK_WRONG: Final = (
    "the camera's clock is wrong",
    "this tablet's clock was wrong",
)
"""Why a photo that says it is older than the work shows it all the same."""
TOO_SHORT: Final = "the lap is short"
REFUSED: Final = (
    "a plate is loose",
    TOO_SHORT,
    "a bolt is missing",
    "broken rock hangs in it",
    "not where the damage is",
)
"""Why a repair is not verified, or does not hold."""
PICKED: Final = (*ORDERS, *DECIDED, *MATERIALS, *NO_PHOTO, *CLOCK_WRONG, *REFUSED)
"""All of them, for whoever translates."""
