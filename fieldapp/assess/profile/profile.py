"""The profile of a drive: where on the rock a distance from the crown lies, and back.

s is the distance along the rock from the crown, looking toward the face, left negative.
`shapes` draws profiles from a standard, from readings or from a survey. Where the profile
changes between two rows, the rock runs from one outline to the other, and is longer by the step.
"""

import math
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Final

from fieldapp.assess.profile.outline import Piece, Point
from schemas.trouble import BadInput

_APART_M: Final = 0.1
"""So near one another places are taken: a bend of 2.5 m radius is off by 0.5 mm between two."""
_MOST: Final = 200
_CLOSE_M = 1e-9
_FLAT_M = 1e-5  # so short a tape lies on the rock


@dataclass(eq=False)
class ProfileRefused(BadInput):
    """The profile, or a place on it, can't be."""

    reason: str
    happened = "The profile can't be used: {reason}."
    kept = "Nothing was changed."
    do_next = "Measure the width and the height again, or correct the support standard."


@dataclass(frozen=True)
class Profile:
    """The outline of a drive from the left floor corner over the back to the right one.

    `crown_m` is how far along the pieces the crown lies. `springline_m` is the height of the
    top of the walls above the floor. `radius_m` and `half_angle_rad` are those of the arch;
    None for another shape.
    """

    pieces: tuple[Piece, ...]
    crown_m: float
    springline_m: float
    radius_m: float | None = None
    half_angle_rad: float | None = None
    _starts_m: tuple[float, ...] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        starts = [0.0]
        for piece in self.pieces:
            starts.append(starts[-1] + piece.length_m)
        object.__setattr__(self, "_starts_m", tuple(starts))

    @property
    def arc_m(self) -> float | None:
        """Length of the arch along the rock [m]."""
        if self.radius_m is None or self.half_angle_rad is None:
            return None
        return 2 * self.radius_m * self.half_angle_rad

    @property
    def line_m(self) -> float:
        """Length of walls and back along the rock, floor corner to floor corner [m]."""
        return self._starts_m[-1]

    @property
    def area_m2(self) -> float:
        """Area of the face [m2]."""
        return math.fsum(piece.area_under_m2 for piece in self.pieces)

    @property
    def floor_s_m(self) -> tuple[float, float]:
        """The left and the right floor corner, as distances from the crown [m]."""
        return -self.crown_m, self.line_m - self.crown_m

    @property
    def width_m(self) -> float:
        """Width where the walls end [m]."""
        left = self.at(self.left_s_at_height_m(self.springline_m))
        mirror = self.mirrored()
        right = mirror.at(mirror.left_s_at_height_m(self.springline_m))
        return -right[0] - left[0]

    def at(self, s_m: float) -> Point:
        """Give the point (y, z) at a distance from the crown [m]."""
        left, right = self.floor_s_m
        if not left - _CLOSE_M <= s_m <= right + _CLOSE_M:
            raise ProfileRefused(f"{s_m:.3f} m from the crown lies below the floor")
        along = min(max(s_m + self.crown_m, 0.0), self.line_m)
        number = next(n for n, end in enumerate(self._starts_m[1:]) if along <= end)
        return self.pieces[number].at(along - self._starts_m[number])

    def s_m(self, y_m: float, z_m: float) -> float:
        """Give the distance from the crown of the rock nearest to (y, z) [m]."""
        nearest = (
            (start + piece.nearest_m(y_m, z_m), piece)
            for start, piece in zip(self._starts_m, self.pieces, strict=False)
        )
        places = [along - self.crown_m for along, _ in nearest]
        return min(places, key=lambda s: (math.dist(self.at(s), (y_m, z_m)), abs(s)))

    def left_s_at_height_m(self, z_m: float) -> float:
        """Give where the left side, climbed from the floor, first stands z high [m]."""
        for start, piece in zip(self._starts_m, self.pieces, strict=False):
            if found := piece.at_height_m(z_m):
                return start + found[0] - self.crown_m
        raise ProfileRefused(f"nothing stands {z_m:.3f} m above the floor")

    def chord_to_arc_m(self, s_from_m: float, straight_m: float) -> float:
        """Turn a taped straight distance into the distance along the rock.

        Positive to the right, negative to the left, in and out. [m]
        """
        if abs(straight_m) < _FLAT_M:
            return straight_m
        if straight_m < 0:
            return -self.mirrored().chord_to_arc_m(-s_from_m, -straight_m)
        point = self.at(s_from_m)
        for start, piece in zip(self._starts_m, self.pieces, strict=False):
            for found in piece.at_straight_m(point, straight_m):
                along = start + found - self.crown_m - s_from_m
                if along > straight_m - _CLOSE_M:  # the rock is never shorter than the tape
                    return along
        raise ProfileRefused(f"{straight_m:.3f} m from there ends below the floor")

    def arc_to_chord_m(self, s_from_m: float, s_to_m: float) -> float:
        """Give the straight distance between two places on the rock [m]."""
        return math.dist(self.at(s_from_m), self.at(s_to_m))

    def mirrored(self) -> "Profile":
        """Give the same profile with left and right exchanged."""
        return Profile(
            pieces=tuple(piece.mirrored() for piece in reversed(self.pieces)),
            crown_m=self.line_m - self.crown_m,
            springline_m=self.springline_m,
            radius_m=self.radius_m,
            half_angle_rad=self.half_angle_rad,
        )


@dataclass(frozen=True)
class SupportedLine:
    """The rock that must be supported in one row, between two distances from the crown [m]."""

    left_s_m: float
    right_s_m: float

    @property
    def length_m(self) -> float:
        """Its length along the rock [m]."""
        return self.right_s_m - self.left_s_m


def supported_line(
    profile: Profile, left_from_floor_m: float, right_from_floor_m: float
) -> SupportedLine:
    """Find the line that must be supported, between stated heights on both walls.

    Parameters
    ----------
    profile : Profile
        The drive's outline. [m]
    left_from_floor_m : float
        How high above the floor support must begin on the left wall. [m]
    right_from_floor_m : float
        The same on the right wall. [m]

    Returns
    -------
    SupportedLine
        Its two ends. [m]

    Raises
    ------
    ProfileRefused
        A height that the drive does not reach.

    Source
    ------
    Common practice, no source.
    """
    left = profile.left_s_at_height_m(left_from_floor_m)
    right = -profile.mirrored().left_s_at_height_m(right_from_floor_m)
    if left >= right:
        raise ProfileRefused("nothing is left to support between the two heights")
    return SupportedLine(left, right)


@lru_cache(maxsize=64)
def outline_m(profile: Profile) -> tuple[tuple[float, Point], ...]:
    """Give an outline as places along it: every joint of its pieces, and some between.

    Parameters
    ----------
    profile : Profile
        The drive's outline. [m]

    Returns
    -------
    tuple of (s, (y, z))
        From the left floor corner to the right one; the straight line between two of them is
        never longer than the rock. [m]

    Source
    ------
    Geometry.
    """
    start_m, _ = profile.floor_s_m
    places = [(start_m, profile.pieces[0].at(0.0))]
    for piece in profile.pieces:
        places += [(start_m + along_m, piece.at(along_m)) for along_m in _shared(piece.length_m)]
        start_m += piece.length_m
    return tuple(places)


@lru_cache(maxsize=64)
def step_between_m(
    one: tuple[Profile, SupportedLine], other: tuple[Profile, SupportedLine]
) -> float:
    """Measure how far the rock steps out, or in, between two rows where it does so most.

    Parameters
    ----------
    one : (Profile, SupportedLine)
        Outline and line to be supported of one row. [m]
    other : (Profile, SupportedLine)
        Of the other. [m]

    Returns
    -------
    float
        From the place on either line that is farthest from the other row's rock, to that rock;
        0 for one profile. [m]

    Source
    ------
    Hausdorff distance, any book of geometry. That the farthest place governs is common
    practice, no source.
    """
    if one[0] == other[0]:
        return 0.0
    return max(_farthest_m(one, other), _farthest_m(other, one))


def across_step_m(flat_m: float, step_m: float) -> float:
    """Give the distance from row to row along rock that steps out between them.

    Parameters
    ----------
    flat_m : float
        Along the drive. [m]
    step_m : float
        How far the rock steps out. [m]

    Returns
    -------
    float
        As long as the rock is at least: straight from outline to outline. [m]

    Source
    ------
    Pythagoras' theorem.
    """
    return math.hypot(flat_m, step_m)


def _shared(length_m: float) -> list[float]:
    """Give the ends of the parts of a length that are short enough [m]."""
    count = min(max(1, math.ceil(length_m / _APART_M)), _MOST)
    return [length_m * number / count for number in range(1, count + 1)]


def _farthest_m(of: tuple[Profile, SupportedLine], other: tuple[Profile, SupportedLine]) -> float:
    from shapely import LineString, distance, points  # loaded where profiles differ

    profile, line = of
    between = [line.left_s_m, *(line.left_s_m + it for it in _shared(line.length_m))]
    joints = [s for s, _ in outline_m(profile) if line.left_s_m < s < line.right_s_m]
    places = points([profile.at(s_m) for s_m in (*between, *joints)])
    rock = LineString([point for _, point in outline_m(other[0])])
    return float(distance(places, rock).max())
