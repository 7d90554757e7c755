"""What somebody tapped on a photo to measure there, and what it comes to."""

from decimal import Decimal
from typing import Literal

from pydantic import Field

from schemas.numbers import Millimetres, Pixels
from schemas.part import Part

Point = tuple[Pixels, Pixels]
"""From the left and from the top edge of the photo as it is seen upright."""
Corners = tuple[Point, Point, Point, Point]
"""One after another round a frame: along its width first."""
What = Literal["length", "spacing", "lap", "offset", "area"]
"""A length or a spacing lies between two points. A lap or an offset is how far the third point
is from the line through the first two. An area has three corners or more."""


class MeshFrame(Part):
    """Four crossings of welded mesh."""

    kind: Literal["mesh"]
    corners_px: Corners
    openings_across: int = Field(ge=1, le=50)
    openings_along: int = Field(ge=1, le=50)
    pitch_across_mm: Millimetres = Field(gt=0)
    """Between the centres of wires, not the clear opening."""
    pitch_along_mm: Millimetres = Field(gt=0)


class SizedFrame(Part):
    """The corners of a plate, or of a target that was printed."""

    kind: Literal["plate", "target"]
    corners_px: Corners
    width_mm: Millimetres = Field(gt=0)
    height_mm: Millimetres = Field(gt=0)


class ToMeasure(Part):
    """One thing to measure."""

    what: What
    name: str = Field(default="", max_length=100)
    points_px: tuple[Point, ...] = Field(min_length=2, max_length=500)


class Taps(Part):
    """A frame on a photo, and what is to be measured by it."""

    frame: MeshFrame | SizedFrame = Field(discriminator="kind")
    measure: tuple[ToMeasure, ...] = Field(min_length=1, max_length=100)
    tap_px: Pixels = Field(default=Decimal(3), gt=0, le=200)
    """Standard uncertainty of a tap, each way."""
    sheets_apart_mm: Millimetres = Decimal(0)
    """How far another sheet that is measured stands from the frame's own."""


class MeasuredOnPhoto(Part):
    """One result, with half of the interval that holds the truth in 95 of 100 cases."""

    what: What
    name: str
    value: str
    plus_minus: str
    unit: Literal["mm", "m2"]
    warnings: tuple[str, ...] = ()


class Measurement(Part):
    """What the taps on one photo come to."""

    method_version: int = Field(ge=1)
    photo_width_px: int
    photo_height_px: int
    obliquity_deg: str
    """Between the line of sight to the frame's middle and the normal of its plane."""
    distance_m: str
    """Of the camera from the frame's plane, about."""
    focal_length: Literal["told by the camera", "assumed"]
    warnings: tuple[str, ...]
    """Of the frame, and so of everything that is measured by it."""
    results: tuple[MeasuredOnPhoto, ...]
