"""Lengths and areas in a picture, and how sure they are."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.linalg import block_diag
from shapely import LinearRing

from fieldapp.assess.photo.camera import Lens, Viewpoint, viewpoint
from fieldapp.assess.photo.frame import Frame
from fieldapp.assess.photo.homography import Homography, NoPlane, Points, homography
from fieldapp.assess.photo.sensitivity import Values, propagated

COVERS: Final = 1.96
"""Standard uncertainties to each side that hold 95 % (JCGM 100:2008, G.1, table G.1)."""


@dataclass(frozen=True)
class Doubts:
    """Standard uncertainties of what a picture is measured by."""

    tap_px: float
    """Of where a finger or the lattice put a point, each way [px]."""
    pitch: float
    """Of the pitch or the size of plate or target, as a share [-]."""
    bulge_mm: float
    """Of how far a point stands out of the frame's plane, in and beside the frame [mm]."""
    curve_mm: float
    """And the radius of a bend, in the mesh or the drive, that is not known of [mm]."""
    bulge_reach_mm: float
    """Points nearer to each other than this stand out about as far [mm]."""
    bend: float
    """Of the lens's bend at half the diagonal, as a share [-]."""


@dataclass(frozen=True)
class Measured:
    """A length [mm] or an area [m²], with its standard uncertainty."""

    value: float
    u: float

    @property
    def plus_minus(self) -> float:
        """Half of the interval that holds the true value in 95 of 100 cases."""
        return COVERS * self.u


@dataclass(frozen=True)
class Picture:
    """A picture with a frame in it."""

    frame: Frame
    lens: Lens
    doubts: Doubts

    @cached_property
    def plane(self) -> Homography:
        """Pixels, the lens's bend taken out, to places in the frame's plane."""
        return homography(self.lens.straight(self.frame.pixels), self.frame.places)

    @cached_property
    def taken_from(self) -> Viewpoint:
        """Where the camera stood."""
        return viewpoint(self.plane, self.lens)

    def places(self, pixels: Points) -> Points:
        """Give the places that pixels show, as if everything lay in the frame's plane."""
        return self.plane.places(self.lens.straight(pixels))


def length_mm(picture: Picture, pixels: Points) -> Measured:
    """Measure the straight distance between two points.

    Parameters
    ----------
    picture : Picture
        With its frame. [px], [mm]
    pixels : array of shape (2, 2)
        The two points. [px]

    Returns
    -------
    Measured
        Distance and standard uncertainty. [mm]

    Raises
    ------
    NoPlane
        A point lies on or beyond the horizon of the frame's plane.

    Source
    ------
    JCGM 100:2008, 5.2.2, with the inputs that `Doubts` lists.
    """
    return _measured(picture, pixels, _apart)


def area_m2(picture: Picture, pixels: Points) -> Measured:
    """Measure what an outline encloses.

    Parameters
    ----------
    picture : Picture
        With its frame. [px], [mm]
    pixels : array of shape (n, 2)
        The outline's corners in order, three or more. [px]

    Returns
    -------
    Measured
        Area and standard uncertainty. [m2]

    Raises
    ------
    NoPlane
        A corner lies on or beyond the horizon of the frame's plane, or the outline crosses itself:
        the parts on either side would be taken from each other.

    Source
    ------
    Gauss's area formula; JCGM 100:2008, 5.2.2.
    """
    if not LinearRing(pixels).is_simple:
        raise NoPlane("the outline crosses itself, so that it would come to less than there is")
    return _measured(picture, pixels, lambda places: _enclosed(places) / 1e6)


def offset_mm(picture: Picture, pixels: Points) -> Measured:
    """Measure how far a point is from the straight line through two others.

    Parameters
    ----------
    picture : Picture
        With its frame. [px], [mm]
    pixels : array of shape (3, 2)
        Two points of the line, then the point. [px]

    Returns
    -------
    Measured
        Distance and standard uncertainty. [mm]

    Raises
    ------
    NoPlane
        A point lies on or beyond the horizon of the frame's plane.

    Source
    ------
    JCGM 100:2008, 5.2.2, with the inputs that `Doubts` lists.
    """
    return _measured(picture, pixels, _aside)


def _apart(places: Points) -> Values:
    x, y = _each_way(places[..., 1, :] - places[..., 0, :])
    apart: Values = np.hypot(x, y)
    return apart


def _enclosed(places: Points) -> Values:
    x, y = _each_way(places)
    twice = (x * np.roll(y, -1, axis=-1) - y * np.roll(x, -1, axis=-1)).sum(axis=-1)
    enclosed: Values = np.abs(twice) / 2
    return enclosed


def _aside(places: Points) -> Values:
    along_x, along_y = _each_way(places[..., 1, :] - places[..., 0, :])
    out_x, out_y = _each_way(places[..., 2, :] - places[..., 0, :])
    aside: Values = np.abs(along_x * out_y - along_y * out_x) / np.hypot(along_x, along_y)
    return aside


def _each_way(points: Points) -> tuple[Values, Values]:
    return points[..., 0], points[..., 1]


def _measured(picture: Picture, pixels: Points, of: Callable[[Points], Values]) -> Measured:
    """Measure something of places, each stack of which gives one value."""
    inputs = _Inputs(picture, pixels)
    best = float(of(picture.places(pixels)))
    u = propagated(lambda values: of(inputs.places(values)), inputs.best, inputs.covariance)
    return Measured(best, u)


@dataclass(frozen=True)
class _Inputs:
    """Everything a measured place depends on, in one row of numbers.

    First the frame's pixels, then those measured, then how far each of these points stands out
    of the plane, then the share by which the pitch is wrong, then the lens's bend.
    """

    picture: Picture
    pixels: Points

    @property
    def best(self) -> Values:
        framed = self.picture.frame.pixels
        heights = np.zeros(len(framed) + len(self.pixels) + 1)
        return np.concatenate(
            (framed.ravel(), self.pixels.ravel(), heights, [self.picture.lens.bend])
        )

    @property
    def covariance(self) -> NDArray[np.float64]:
        doubts, points = self.picture.doubts, len(self.picture.frame.pixels) + len(self.pixels)
        taps = np.eye(2 * points) * doubts.tap_px**2
        shared = np.diag([doubts.pitch**2, doubts.bend**2])
        return block_diag(taps, self._heights, shared)

    @property
    def _heights(self) -> NDArray[np.float64]:
        """Give the covariance of how far the points stand out: neighbours stand out alike."""
        frame, doubts = self.picture.frame, self.picture.doubts
        places = np.vstack((frame.places, self.picture.places(self.pixels)))
        out = np.hypot(*(places - frame.places.mean(axis=0)).T)
        u = np.hypot(doubts.bulge_mm, out**2 / (2 * doubts.curve_mm))
        apart = np.hypot(*(places[:, None, :] - places[None, :, :]).transpose(2, 0, 1))
        alike: NDArray[np.float64] = np.exp(-((apart / doubts.bulge_reach_mm) ** 2) / 2)
        return alike * np.outer(u, u)

    def places(self, values: Values) -> Points:
        """Give the places of the measured points by other inputs than the best, row by row."""
        picture = self.picture
        framed, n = len(picture.frame.pixels), len(picture.frame.pixels) + len(self.pixels)
        taps = values[:, : 2 * n].reshape(-1, n, 2)
        heights, shared = values[:, 2 * n : 3 * n, None], values[:, 3 * n :, None, None]
        share, bend = shared[:, 0], shared[:, 1]
        straight = picture.lens.straight_by(bend, taps)
        true = picture.frame.places * (1 + share)
        leans = picture.taken_from.lean
        plane = homography(straight[:, :framed], true + heights[:, :framed] * leans(true))
        seen = plane.places(straight[:, framed:])
        places: Points = seen - heights[:, framed:] * leans(seen)
        return places
