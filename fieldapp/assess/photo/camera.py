"""Where a picture was taken from, and how its lens bends what it shows."""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from fieldapp.assess.photo.homography import Homography, NoPlane, Points

_FULL_FRAME_MM = 36.0
"""Width of the film that an "equivalent focal length" is told for (CIPA DCG-001)."""


@dataclass(frozen=True)
class Lens:
    """A pinhole in front of a picture, its axis through the middle of it.

    `bend` is the radial distortion at half the picture's diagonal: the share by which a point
    there is shown too far out; a barrel has a negative one.
    """

    width_px: float
    height_px: float
    focal_px: float
    bend: float = 0.0

    @property
    def middle(self) -> Points:
        """The middle of the picture [px]."""
        return np.array([self.width_px / 2, self.height_px / 2], dtype=np.float64)

    @property
    def half_diagonal_px(self) -> float:
        """From the middle to a corner [px]."""
        return math.hypot(self.width_px, self.height_px) / 2

    def straight(self, pixels: Points) -> Points:
        """Give where the pixels would lie without the lens's bend."""
        return self.straight_by(self.bend, pixels)

    def straight_by(self, bend: float | NDArray[np.float64], pixels: Points) -> Points:
        """Give where they would lie if this were its bend; for a stack, one for each."""
        out = pixels - self.middle
        square = (out**2).sum(axis=-1, keepdims=True) / self.half_diagonal_px**2
        straight: Points = self.middle + out / (1 + bend * square)
        return straight


@dataclass(frozen=True)
class Viewpoint:
    """Where the camera stood: over which place of the plane, and how far from it [mm]."""

    foot_mm: tuple[float, float]
    distance_mm: float

    def lean(self, places: Points) -> Points:
        """Give by how much a place seems to be moved when it stands 1 mm out of the plane.

        Toward the camera it seems to move away from the camera's foot.
        """
        leans: Points = (places - np.array(self.foot_mm)) / self.distance_mm
        return leans

    def obliquity_deg(self, place: Points) -> float:
        """Give the angle between the line of sight to a place and the plane's normal."""
        return math.degrees(math.atan(float(np.hypot(*self.lean(place[None, :])[0]))))


def focal_length_px(width_px: float, height_px: float, equivalent_mm: float) -> float:
    """Turn the focal length that a camera writes beside its picture into pixels.

    Parameters
    ----------
    width_px, height_px : float
        The picture. [px]
    equivalent_mm : float
        Focal length as on film 36 mm wide. [mm]

    Returns
    -------
    float
        Focal length. [px]

    Source
    ------
    Exif 2.32, tag 41989 FocalLengthIn35mmFilm; pinhole camera.
    """
    return max(width_px, height_px) * equivalent_mm / _FULL_FRAME_MM


def viewpoint(plane: Homography, lens: Lens) -> Viewpoint:
    """Find where a camera stood from how it shows a plane.

    Parameters
    ----------
    plane : Homography
        Pixels without bend to places in the plane. [px], [mm]
    lens : Lens
        Its focal length is believed. [px]

    Returns
    -------
    Viewpoint
        Its foot on the plane, and its distance from the plane. [mm]

    Raises
    ------
    NoPlane
        The points are too far from any view of a plane by this lens.

    Source
    ------
    Zhang, Z. (2000), A flexible new technique for camera calibration, IEEE Trans. PAMI 22(11),
    section 3.1: the columns of K⁻¹H are two axes of the plane and the way to its origin, to
    one scale; the axes are made square to each other by the singular value decomposition.
    """
    middle = lens.middle
    inside = np.array(
        [[1, 0, -middle[0]], [0, 1, -middle[1]], [0, 0, lens.focal_px]], dtype=np.float64
    )
    seen = inside @ np.linalg.inv(plane.to_plane)
    scale = (np.linalg.norm(seen[:, 0]) + np.linalg.norm(seen[:, 1])) / 2
    if not scale > 0:
        raise NoPlane("no camera sees a plane like this")
    seen = seen / scale * np.sign(seen[2, 2] or 1.0)
    axes = np.column_stack((seen[:, 0], seen[:, 1], np.cross(seen[:, 0], seen[:, 1])))
    left, _, right = np.linalg.svd(axes)
    stand = -(left @ right).T @ seen[:, 2]
    if not abs(stand[2]) > 0:
        raise NoPlane("the camera stands in the plane")
    return Viewpoint((float(stand[0]), float(stand[1])), abs(float(stand[2])))
