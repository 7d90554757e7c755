"""The frame: points of known places in the plane, by which a picture is measured."""

from dataclasses import dataclass
from itertools import pairwise
from typing import Literal, TypeAlias

import numpy as np

from fieldapp.assess.photo.homography import NoPlane, Points

Kind: TypeAlias = Literal["mesh", "plate", "target"]
"""Crossings of welded mesh, the corners of a plate, those of a printed target."""


@dataclass(frozen=True)
class Frame:
    """Points in a picture [px] and the places that they show [mm]."""

    kind: Kind
    pixels: Points
    places: Points


def mesh_frame(
    corners_px: Points, across: int, along: int, pitch_mm: tuple[float, float]
) -> Frame:
    """Make a frame of four crossings of welded mesh.

    Parameters
    ----------
    corners_px : array of shape (4, 2)
        Four crossings, one after another round the frame: across first. [px]
    across, along : int
        Openings between the first and the second corner, and the second and the third. [-]
    pitch_mm : (float, float)
        Wire centres across and along; the pitch, not the clear opening. [mm]

    Returns
    -------
    Frame
        Its first corner is the plane's origin. [mm]

    Raises
    ------
    NoPlane
        The corners make no convex four-sided figure, or there is no opening between them.

    Source
    ------
    Common practice, no source.
    """
    if across < 1 or along < 1:
        raise NoPlane("a frame spans at least one opening each way")
    return _rectangle("mesh", corners_px, across * pitch_mm[0], along * pitch_mm[1])


def plate_frame(
    corners_px: Points, width_mm: float, height_mm: float, kind: Kind = "plate"
) -> Frame:
    """Make a frame of the corners of a plate or a printed target.

    Parameters
    ----------
    corners_px : array of shape (4, 2)
        One after another round it: along its width first. [px]
    width_mm, height_mm : float
        Between its corners. [mm]
    kind : Kind
        "plate" or "target". [-]

    Returns
    -------
    Frame
        Its first corner is the plane's origin. [mm]

    Raises
    ------
    NoPlane
        The corners make no convex four-sided figure.

    Source
    ------
    Common practice, no source.
    """
    return _rectangle(kind, corners_px, width_mm, height_mm)


def _rectangle(kind: Kind, corners_px: Points, width_mm: float, height_mm: float) -> Frame:
    if not _is_convex(corners_px):
        raise NoPlane("the corners do not go round a four-sided figure one after another")
    places = np.array(
        [[0, 0], [width_mm, 0], [width_mm, height_mm], [0, height_mm]], dtype=np.float64
    )
    return Frame(kind, corners_px, places)


def _is_convex(corners: Points) -> bool:
    """Tell whether each side turns the same way: a frame that crosses itself does not."""
    if len(corners) != 4:  # noqa: PLR2004
        return False
    sides = np.roll(corners, -1, axis=0) - corners
    turns = [a[0] * b[1] - a[1] * b[0] for a, b in pairwise([*sides, sides[0]])]
    return all(turn > 0 for turn in turns) or all(turn < 0 for turn in turns)
