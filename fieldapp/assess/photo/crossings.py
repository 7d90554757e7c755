"""Where wires cross in a picture: bright ridges that run two ways through one pixel."""

from dataclasses import dataclass
from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from fieldapp.assess.photo.homography import Points

DIRECTIONS: Final = 24
REACH_PX: Final = 16
"""How far to each side a wire is followed."""
APART: Final = 5
"""Directions between two wires that cross, at least: 37°."""
STRONG: Final = 0.30
"""Of the strongest crossings' strength."""
_RIDGES_PX: Final = (1.2, 2.0)
_LOCAL_PX: Final = 25.0


@dataclass(frozen=True)
class Crossings:
    """Where wires may cross: the place, and the two ways in which the wires run."""

    pixels: Points
    ways: NDArray[np.float64]
    """n × 2 × 2: two unit vectors each."""


def crossings(grey: NDArray[np.uint8]) -> Crossings:
    """Find where bright wires may cross.

    Parameters
    ----------
    grey : array of shape (height, width)
        A picture, 0 to 255, 800 to 1,000 pixels wide. [-]

    Returns
    -------
    Crossings
        Candidates, the strongest first, some of them wrong. [px]

    Source
    ------
    Own method: eigenvalues of the Hessian (Steger, C. (1998), An unbiased detector of
    curvilinear structures, IEEE Trans. PAMI 20(2)), followed along straight pieces.
    """
    followed = _followed(_ridges(grey))
    first = followed.argmax(axis=0)
    rows, columns = np.indices(first.shape)
    other = followed.copy()
    for step in range(-APART + 1, APART):
        other[(first + step) % DIRECTIONS, rows, columns] = 0
    second = other.argmax(axis=0)
    strength = other[second, rows, columns]
    peaks = _peaks(strength)
    peaks = peaks[np.argsort(-strength[tuple(peaks.T)])]
    at = tuple(peaks.T)
    ways = np.stack((_way(first[at]), _way(second[at])), axis=1)
    return Crossings(_finer(strength, peaks), ways)


def _ridges(grey: NDArray[np.uint8]) -> NDArray[np.float32]:
    """Give how much brighter than both sides each pixel is, beside its neighbourhood."""
    light = grey.astype(np.float32)
    ridges: NDArray[np.float32] = np.zeros_like(light)
    for size in _RIDGES_PX:
        smooth = cv2.GaussianBlur(light, (0, 0), size)
        xx, yy = cv2.Sobel(smooth, -1, 2, 0), cv2.Sobel(smooth, -1, 0, 2)
        xy = cv2.Sobel(smooth, -1, 1, 1)
        least = (xx + yy) / 2 - np.sqrt(((xx - yy) / 2) ** 2 + xy**2)
        brighter = np.asarray(np.maximum(-least, 0) * size**2, dtype=np.float32)
        ridges = np.asarray(np.maximum(ridges, brighter), dtype=np.float32)
    usual = cv2.GaussianBlur(ridges, (0, 0), _LOCAL_PX)
    return np.asarray(np.minimum(ridges / (usual + 0.3), 2), dtype=np.float32)


def _followed(ridges: NDArray[np.float32]) -> NDArray[np.float32]:
    """Follow the ridges each way: the weaker of both sides counts."""
    sides = []
    for turn in range(2 * DIRECTIONS):
        kernel = np.zeros((2 * REACH_PX + 1,) * 2, dtype=np.float32)
        way = np.pi * turn / DIRECTIONS
        for far in np.arange(2, REACH_PX + 0.5, 0.5):
            x, y = far * np.cos(way) + REACH_PX, far * np.sin(way) + REACH_PX
            kernel[round(y), round(x)] = 1
        spread = cv2.GaussianBlur(kernel, (0, 0), 0.7)
        sides.append(cv2.filter2D(ridges, -1, spread / spread.sum()))
    return np.minimum(np.array(sides[:DIRECTIONS]), np.array(sides[DIRECTIONS:]))


def _peaks(strength: NDArray[np.float32]) -> NDArray[np.intp]:
    smooth = cv2.GaussianBlur(strength, (0, 0), 1.0)
    highest = cv2.dilate(smooth, np.ones((9, 9), dtype=np.uint8))
    strongest = np.percentile(smooth[smooth == highest], 98)
    peaks = np.argwhere((smooth == highest) & (smooth > STRONG * strongest))
    edge = REACH_PX
    high, wide = strength.shape
    inside = (peaks >= edge).all(axis=1) & (peaks < (high - edge, wide - edge)).all(axis=1)
    return peaks[inside]


def _way(turn: NDArray[np.intp]) -> NDArray[np.float64]:
    way = np.pi * turn / DIRECTIONS
    return np.stack((np.cos(way), np.sin(way)), axis=-1)


def _finer(strength: NDArray[np.float32], peaks: NDArray[np.intp]) -> Points:
    """Put each peak where its strength is centred."""
    found = np.zeros((len(peaks), 2))
    offsets = np.arange(-3, 4)
    for number, (row, column) in enumerate(peaks):
        near = strength[row - 3 : row + 4, column - 3 : column + 4].astype(np.float64) ** 2
        total = near.sum() or 1.0
        found[number] = (
            column + (near.sum(axis=0) * offsets).sum() / total,
            row + (near.sum(axis=1) * offsets).sum() / total,
        )
    return found
