"""What was measured on one photo: the taps, and what they come to by which method."""

from schemas.part import Part
from schemas.taps import Measurement, Taps


class PhotoMeasurement(Part):
    """Lengths and areas by one frame. A correction is a new revision with all that stand."""

    photo: str
    """Id of the photo."""
    taps: Taps
    found: Measurement
