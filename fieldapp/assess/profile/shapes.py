"""Profiles drawn from a standard, from a width and a height read in the drive, or a survey."""

import math
from collections.abc import Sequence
from itertools import pairwise

from fieldapp.assess.profile.outline import Bend, Piece, Point, Straight
from fieldapp.assess.profile.profile import Profile, ProfileRefused


def designed_arch_profile(width_m: float, wall_height_m: float, rise_m: float) -> Profile:
    """Draw the arch that a standard demands.

    Parameters
    ----------
    width_m : float
        Width at the springline. [m]
    wall_height_m : float
        Floor to springline. [m]
    rise_m : float
        Springline to crown, at most half the width. [m]

    Returns
    -------
    Profile
        The drive's outline. [m]

    Raises
    ------
    ProfileRefused
        A rise over half the width: nobody designs that, so a figure was mistyped.

    Source
    ------
    Circular segment, any book of geometry; the refusal is common practice, no source.
    """
    if rise_m > width_m / 2:
        raise ProfileRefused(
            f"a designed rise of {rise_m:.3f} m is more than half the width {width_m:.3f} m"
        )
    return measured_arch_profile(width_m, wall_height_m, rise_m)


def measured_arch_profile(width_m: float, wall_height_m: float, rise_m: float) -> Profile:
    """Draw the arch that was measured, also one that bulges beyond a semicircle.

    Parameters
    ----------
    width_m : float
        Width at the springline. [m]
    wall_height_m : float
        Floor to springline. [m]
    rise_m : float
        Springline to crown; 0 is a flat back. [m]

    Returns
    -------
    Profile
        The drive's outline; r = (W²/4 + a²)/(2a), half angle 2·atan(2a/W). [m]

    Raises
    ------
    ProfileRefused
        A width that is not positive, or a negative height.

    Source
    ------
    Circular segment, any book of geometry. 2·atan(2a/W) holds beyond a semicircle, where
    asin(W/2r) gives the supplement.
    """
    if width_m <= 0 or wall_height_m < 0 or rise_m < 0 or wall_height_m + rise_m <= 0:
        raise ProfileRefused("a width or a height is not positive")
    if rise_m == 0:
        return flat_back_profile(width_m, wall_height_m)
    radius = (width_m**2 / 4 + rise_m**2) / (2 * rise_m)
    half_angle = 2 * math.atan(2 * rise_m / width_m)
    arch = Bend(0.0, wall_height_m + rise_m - radius, radius, -half_angle, half_angle)
    return Profile(
        pieces=_between_walls(width_m, wall_height_m, (arch,)),
        crown_m=wall_height_m + radius * half_angle,
        springline_m=wall_height_m,
        radius_m=radius,
        half_angle_rad=half_angle,
    )


def flat_back_profile(width_m: float, height_m: float, corner_radius_m: float = 0.0) -> Profile:
    """Draw a drive with a flat back, its corners square or rounded.

    Parameters
    ----------
    width_m : float
        Wall to wall. [m]
    height_m : float
        Floor to back. [m]
    corner_radius_m : float
        Radius of the corners between wall and back. [m]

    Returns
    -------
    Profile
        The drive's outline. [m]

    Raises
    ------
    ProfileRefused
        A length that is not positive, or corners larger than the drive.

    Source
    ------
    Geometry: line w + 2h − 4c + πc, area wh − 2(1 − π/4)c².
    """
    corner = corner_radius_m
    if width_m <= 0 or height_m <= 0:
        raise ProfileRefused("a width or a height is not positive")
    if not 0 <= corner <= min(width_m / 2, height_m):
        raise ProfileRefused("the corners don't fit into the drive")
    flat = width_m / 2 - corner
    back: tuple[Piece, ...] = (Straight(-flat, height_m, flat, height_m),) if flat > 0 else ()
    if corner > 0:
        centre = height_m - corner
        left = Bend(-flat, centre, corner, -math.pi / 2, 0.0)
        right = Bend(flat, centre, corner, 0.0, math.pi / 2)
        back = (left, *back, right)
    pieces = _between_walls(width_m, height_m - corner, back)
    line = math.fsum(piece.length_m for piece in pieces)
    return Profile(pieces=pieces, crown_m=line / 2, springline_m=height_m - corner)


def surveyed_profile(points_m: Sequence[Point], springline_m: float) -> Profile:
    """Draw a drive from surveyed points, left floor corner to right floor corner.

    Walls are taken straight down to the floor from the outermost points: a survey that
    stops short of the floor must not shorten the line that bolts are demanded for.

    Parameters
    ----------
    points_m : sequence of (y, z)
        From left to right looking toward the face; y from the centre line, z from floor. [m]
    springline_m : float
        Height of the top of the walls above the floor. [m]

    Returns
    -------
    Profile
        The drive's outline; the crown is the rock on the centre line. [m]

    Raises
    ------
    ProfileRefused
        Fewer than three points, none on either side of the centre line, or a line that
        crosses itself.

    Source
    ------
    Common practice, no source.
    """
    distinct = [p for n, p in enumerate(points_m) if n == 0 or p != points_m[n - 1]]
    feet = [(distinct[0][0], 0.0)] if distinct and distinct[0][1] > 0 else []
    end = [(distinct[-1][0], 0.0)] if distinct and distinct[-1][1] > 0 else []
    corners = [*feet, *distinct, *end]
    _refuse_unless_outline(corners)
    pieces = tuple(Straight(*a, *b) for a, b in pairwise(corners))
    return Profile(pieces=pieces, crown_m=_crown_m(pieces), springline_m=springline_m)


def crossing_at(points_m: Sequence[Point]) -> int | None:
    """Find the point at which a surveyed line first crosses or touches itself.

    Parameters
    ----------
    points_m : sequence of (y, z)
        From left to right looking toward the face. [m]

    Returns
    -------
    int or None
        Its place in the sequence, from 0; None for a line that never does. [-]

    Source
    ------
    Geometry.
    """
    from shapely import LineString

    ends = range(1, len(points_m))
    return next((n for n in ends if not LineString(points_m[: n + 1]).is_simple), None)


def _between_walls(
    width_m: float, wall_height_m: float, back: tuple[Piece, ...]
) -> tuple[Piece, ...]:
    if wall_height_m == 0:
        return back
    half = width_m / 2
    left = Straight(-half, 0.0, -half, wall_height_m)
    return (left, *back, Straight(half, wall_height_m, half, 0.0))


def _refuse_unless_outline(corners: Sequence[Point]) -> None:
    if len(corners) < 3:  # noqa: PLR2004 (two walls and a back)
        raise ProfileRefused("a survey needs at least three points")
    if not corners[0][0] < 0 < corners[-1][0]:
        raise ProfileRefused("the survey must run from left to right of the centre line")
    from shapely import LinearRing

    if not LinearRing(corners).is_simple:
        raise ProfileRefused("the surveyed line crosses itself")


def _crown_m(pieces: Sequence[Straight]) -> float:
    """Find the highest rock on the centre line."""
    found = []
    start = 0.0
    for piece in pieces:
        if piece.from_y_m <= 0 <= piece.to_y_m and piece.from_y_m < piece.to_y_m:
            share = -piece.from_y_m / (piece.to_y_m - piece.from_y_m)
            z = piece.from_z_m + share * (piece.to_z_m - piece.from_z_m)
            found.append((z, start + share * piece.length_m))
        start += piece.length_m
    return max(found)[1]
