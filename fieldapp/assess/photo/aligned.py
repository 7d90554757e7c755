"""One photo laid over another of the same place, by the frame in each."""

from dataclasses import dataclass
from typing import Final, TypeAlias

import cv2
import numpy as np
from numpy.typing import NDArray

from fieldapp.assess.photo.frame import Frame
from fieldapp.assess.photo.homography import Homography, Points, homography

Matrix: TypeAlias = NDArray[np.float64]
_QUARTER: Final[Matrix] = np.array([[0, -1, 0], [1, 0, 0], [0, 0, 1]], dtype=np.float64)
_MIRROR: Final[Matrix] = np.diag([1.0, -1.0, 1.0])
_TURNS: Final = tuple(
    np.linalg.matrix_power(_QUARTER, quarter) @ side
    for quarter in range(4)
    for side in (np.eye(3), _MIRROR)
)
"""In how many ways the corners of a frame can be tapped one after another."""


@dataclass(frozen=True)
class Aligned:
    """Which pixel of the after-photo belongs to each pixel of the before-photo."""

    to_after: Matrix
    """3 × 3, homogeneous; a pixel behind the after-camera has a third coordinate below zero."""
    horizon: NDArray[np.float64]
    """A pixel of the before-photo shows the plane where its product with this is above zero."""

    def pixels(self, before: Points) -> Points:
        """Give the pixels of the after-photo that belong to pixels of the before-photo."""
        return _mapped(self.to_after, before)


def aligned(before: Frame, after: Frame) -> Aligned:
    """Lay an after-photo over its before-photo.

    What is aligned is scale, tilt and direction, and the middles of both frames are brought
    together. The frames may lie at different crossings of the mesh: then the places themselves
    are apart by as much. From which corner and which way round a frame was tapped does not
    count: of the ways in which frames can lie on each other the one is taken that turns the
    after-photo least, so a photo that was held upside down stays so. The lens's bend is left.

    Parameters
    ----------
    before, after : Frame
        Of one photo each. [px], [mm]

    Returns
    -------
    Aligned
        From pixels of the before-photo to those of the after-photo. [px]

    Raises
    ------
    NoPlane
        A frame has three corners on one line, or one beyond the horizon.

    Source
    ------
    Own method: Hartley and Zisserman (2004), Multiple View Geometry, 2nd ed., section 13.1:
    two views of one plane differ by a homography.
    """
    was, now = (homography(it.pixels, it.places).to_plane for it in (before, after))
    was_middle, now_middle = (it.places.mean(axis=0) for it in (before, after))
    at = Homography(was).pixels(was_middle[None, :])
    ways = [
        np.linalg.inv(now) @ _shift(now_middle) @ turn @ _shift(-was_middle) @ was
        for turn in _TURNS
    ]
    least = max(ways, key=lambda way: _uprightness(way, at))
    return Aligned(least, was[2])


def laid_over(
    picture: NDArray[np.uint8], over: Aligned, size_px: tuple[int, int]
) -> NDArray[np.uint8]:
    """Give an after-photo as it lies over its before-photo, black where it shows nothing.

    Parameters
    ----------
    picture : array of shape (height, width, 3)
        The after-photo, 0 to 255. [-]
    over : Aligned
        For these pixels: whole numbers are their middles. [px]
    size_px : (int, int)
        Width and height of the before-photo. [px]

    Returns
    -------
    array of shape (height, width, 3)
        As large as the before-photo. [-]

    Source
    ------
    Bilinear interpolation (OpenCV, warpPerspective).
    """
    wide, high = size_px
    way = cv2.WARP_INVERSE_MAP | cv2.INTER_LINEAR
    warped = cv2.warpPerspective(picture, over.to_after, size_px, flags=way)
    x, y = np.meshgrid(np.arange(wide), np.arange(high))
    for line in (over.horizon, over.to_after[2]):
        warped[line[0] * x + line[1] * y + line[2] <= 0] = 0
    return np.asarray(warped, dtype=np.uint8)


def _uprightness(way: Matrix, at: Points) -> float:
    """Give the cosine of the angle by which a way turns what is near a place; −2 if mirrored."""
    ends = _mapped(way, at + np.array([[0, 0], [1, 0], [0, 1]], dtype=np.float64))
    (right_x, right_y), (down_x, down_y) = ends[1:] - ends[0]
    if right_x * down_y - right_y * down_x <= 0:
        return -2.0
    along, aside = right_x + down_y, right_y - down_x
    return float(along / np.hypot(along, aside))


def _shift(by: NDArray[np.float64]) -> Matrix:
    return np.array([[1, 0, by[0]], [0, 1, by[1]], [0, 0, 1]], dtype=np.float64)


def _mapped(matrix: Matrix, points: Points) -> Points:
    found = np.column_stack((points, np.ones(len(points)))) @ matrix.T
    mapped: Points = found[:, :2] / found[:, 2:]
    return mapped
