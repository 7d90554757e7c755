"""What makes a photo doubtful to measure on, in words for whoever measures."""

from collections.abc import Iterator
from typing import Final

import numpy as np

from fieldapp.assess.photo.homography import Points
from fieldapp.assess.photo.measured import Picture

OBLIQUE_DEG: Final = 50.0
SMALL: Final = 0.08
"""Of the photo's shorter edge: a frame with a shorter side is too small."""
SHEETS_APART_MM: Final = 50.0


def frame_cautions(picture: Picture, sheets_apart_mm: float) -> tuple[str, ...]:
    """Name what is doubtful about a frame.

    Parameters
    ----------
    picture : Picture
        With its frame. [px], [mm]
    sheets_apart_mm : float
        How far another sheet that is measured stands from the frame's own. [mm]

    Returns
    -------
    tuple of str
        "taken from 56° aside: step in front of it"; empty where nothing is. [-]

    Source
    ------
    Common practice, no source.
    """
    return tuple(_frame_cautions(picture, sheets_apart_mm))


def _frame_cautions(picture: Picture, sheets_apart_mm: float) -> Iterator[str]:
    middle = picture.frame.places.mean(axis=0)
    aside = picture.taken_from.obliquity_deg(middle)
    if aside > OBLIQUE_DEG:
        yield f"taken from {aside:.0f}° aside: step in front of it"
    corners = picture.frame.pixels
    shortest = np.hypot(*(np.roll(corners, -1, axis=0) - corners).T).min()
    if shortest < SMALL * min(picture.lens.width_px, picture.lens.height_px):
        yield "the frame is small in the photo: use more openings, or go nearer"
    if sheets_apart_mm > SHEETS_APART_MM:
        yield f"the sheets stand {sheets_apart_mm:.0f} mm apart: measure the lap with a tape"


def far_from_frame(picture: Picture, pixels: Points) -> tuple[str, ...]:
    """Say so where something is measured far outside the frame.

    Parameters
    ----------
    picture : Picture
        With its frame. [px], [mm]
    pixels : array of shape (n, 2)
        The points measured. [px]

    Returns
    -------
    tuple of str
        One caution where a point lies more than half the frame outside it; else none. [-]

    Source
    ------
    Common practice, no source.
    """
    frame, places = picture.frame.places, picture.places(pixels)
    low, high = frame.min(axis=0), frame.max(axis=0)
    beyond = np.maximum(low - places, places - high)
    if (beyond > (high - low) / 2).any():
        return ("more than half a frame outside it: put the frame nearer",)
    return ()
