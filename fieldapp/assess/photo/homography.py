"""From the pixels of a picture to the plane it shows, and back."""

from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

Points: TypeAlias = NDArray[np.float64]
"""Points in rows, two columns: x to the right and y downward [px], or places in a plane [mm].

Or a stack of such arrays: each is worked on by itself, all at once.
"""

FEWEST = 4
_LEAST_SINGULAR = 1e-7
"""Of normalised coordinates: below it three of four points lie on one line."""


class NoPlane(ValueError):
    """These points say nothing about a plane; the words say why."""


@dataclass(frozen=True)
class Homography:
    """A picture's pixels ↔ places in a plane."""

    to_plane: NDArray[np.float64]
    """3 × 3, from homogeneous pixels to homogeneous places; the middle of the points it was
    fitted to has a positive third coordinate. Fitted to a stack, one for each."""

    def places(self, pixels: Points) -> Points:
        """Give the places in the plane that these pixels show.

        Raises
        ------
        NoPlane
            A pixel lies on or beyond the plane's horizon.
        """
        return _mapped(self.to_plane, pixels)

    def pixels(self, places: Points) -> Points:
        """Give the pixels that show these places of the plane."""
        back = np.linalg.inv(self.to_plane)
        return _mapped(back * np.sign(np.linalg.det(back)), places, both_sides=True)


def homography(pixels: Points, places: Points) -> Homography:
    """Fit the plane's places to the pixels that show them.

    Parameters
    ----------
    pixels : array of shape (n, 2)
        At least four, no three of four on one line. [px]
    places : array of shape (n, 2)
        What they show, in the same order. [mm]

    Returns
    -------
    Homography
        From pixels to places; exact for four points, least algebraic error for more. [mm]

    Raises
    ------
    NoPlane
        Too few points, three of four on one line, or one of them beyond the horizon.

    Source
    ------
    Hartley, R. I. (1997), In defense of the eight-point algorithm, IEEE Trans. PAMI 19(6):
    normalised coordinates; the direct linear transformation of homogeneous equations.
    """
    if pixels.shape[-2] < FEWEST or pixels.shape != places.shape:
        raise NoPlane("four points are needed, each with its place")
    seen, shown = _normal(pixels), _normal(places)
    equations = _equations(_mapped(seen, pixels), _mapped(shown, places))
    _, sizes, directions = np.linalg.svd(equations)
    between = directions[..., -1, :].reshape(*pixels.shape[:-2], 3, 3)
    flat = (sizes[..., 7] < _LEAST_SINGULAR * sizes[..., 0]) | (
        abs(np.linalg.det(between)) < _LEAST_SINGULAR
    )
    if flat.any():
        raise NoPlane("three of the points lie on one line")
    found = np.linalg.inv(shown) @ between @ seen
    found = found / np.linalg.norm(found, axis=(-2, -1), keepdims=True)
    middle = _depths(found, pixels.mean(axis=-2, keepdims=True))
    fitted = Homography(found * np.where(middle < 0, -1.0, 1.0)[..., None])
    fitted.places(pixels)
    return fitted


def _normal(points: Points) -> NDArray[np.float64]:
    """Give the shift and scale that put points about the origin, √2 from it on average."""
    middle = points.mean(axis=-2)
    spread = np.hypot(*np.moveaxis(points - middle[..., None, :], -1, 0)).mean(axis=-1)
    if not (spread > 0).all():
        raise NoPlane("all points are one")
    scale = np.sqrt(2) / spread
    normal = np.zeros((*scale.shape, 3, 3))
    normal[..., 0, 0] = normal[..., 1, 1] = scale
    normal[..., :2, 2] = -scale[..., None] * middle
    normal[..., 2, 2] = 1.0
    return normal


def _equations(seen: Points, shown: Points) -> NDArray[np.float64]:
    """Give two for each point, one below the other."""
    *stack, points, _ = seen.shape
    equations = np.zeros((*stack, points, 2, 9))
    for row, place in enumerate(np.moveaxis(shown, -1, 0)):
        equations[..., row, 3 * row : 3 * row + 2] = -seen
        equations[..., row, 3 * row + 2] = -1.0
        equations[..., row, 6:8] = place[..., None] * seen
        equations[..., row, 8] = place
    return equations.reshape(*stack, 2 * points, 9)


def _depths(matrix: NDArray[np.float64], points: Points) -> NDArray[np.float64]:
    depths: NDArray[np.float64] = (points @ matrix[..., 2, :2, None])[..., 0]
    return depths + matrix[..., 2, 2, None]


def _mapped(matrix: NDArray[np.float64], points: Points, *, both_sides: bool = False) -> Points:
    depths = _depths(matrix, points)
    if not both_sides and not (depths > 0).all():
        raise NoPlane("a point lies beyond the horizon of the plane")
    across = points @ np.swapaxes(matrix[..., :2, :2], -2, -1) + matrix[..., None, :2, 2]
    mapped: Points = across / depths[..., None]
    return mapped
