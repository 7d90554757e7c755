"""The pieces that the outline of a drive is made of: straight lines and bends.

Seen looking toward the face, y to the right of the centre line and z above the floor. A
piece runs from left to right; `along_m` is the distance from its start, along the rock.
`profile` strings pieces together.
"""

import math
from dataclasses import dataclass
from typing import TypeAlias

Point: TypeAlias = tuple[float, float]
"""(y, z) in metres."""

_CLOSE_M = 1e-9


@dataclass(frozen=True)
class Straight:
    """A straight piece of rock [m]."""

    from_y_m: float
    from_z_m: float
    to_y_m: float
    to_z_m: float

    @property
    def length_m(self) -> float:
        """Length of the piece [m]."""
        return math.hypot(self.to_y_m - self.from_y_m, self.to_z_m - self.from_z_m)

    @property
    def area_under_m2(self) -> float:
        """Area between the piece and the floor, counted from left to right [m2]."""
        return (self.to_y_m - self.from_y_m) * (self.from_z_m + self.to_z_m) / 2

    def at(self, along_m: float) -> Point:
        """Give the point a distance along the piece [m]."""
        share = along_m / self.length_m
        return (
            self.from_y_m + share * (self.to_y_m - self.from_y_m),
            self.from_z_m + share * (self.to_z_m - self.from_z_m),
        )

    def nearest_m(self, y_m: float, z_m: float) -> float:
        """Give the distance along the piece of its point nearest to (y, z) [m]."""
        right, up = self._direction()
        along = (y_m - self.from_y_m) * right + (z_m - self.from_z_m) * up
        return min(max(along, 0.0), self.length_m)

    def at_height_m(self, z_m: float) -> tuple[float, ...]:
        """Give where along the piece it stands z above the floor [m]."""
        rise = self.to_z_m - self.from_z_m
        if abs(rise) < _CLOSE_M:
            return (0.0,) if abs(z_m - self.from_z_m) < _CLOSE_M else ()
        return _within(((z_m - self.from_z_m) / rise * self.length_m,), self.length_m)

    def at_straight_m(self, point: Point, straight_m: float) -> tuple[float, ...]:
        """Give where along the piece it is a straight distance from a point [m]."""
        right, up = self._direction()
        y, z = self.from_y_m - point[0], self.from_z_m - point[1]
        half = y * right + z * up
        square = half * half - (y * y + z * z - straight_m * straight_m)
        if square < 0:
            return ()
        return _within((-half - math.sqrt(square), -half + math.sqrt(square)), self.length_m)

    def mirrored(self) -> "Straight":
        """Give the same piece seen from behind."""
        return Straight(-self.to_y_m, self.to_z_m, -self.from_y_m, self.from_z_m)

    def _direction(self) -> Point:
        length = self.length_m
        return (self.to_y_m - self.from_y_m) / length, (self.to_z_m - self.from_z_m) / length


@dataclass(frozen=True)
class Bend:
    """A piece of a circle; angles from straight up, clockwise [m], [rad]."""

    centre_y_m: float
    centre_z_m: float
    radius_m: float
    from_rad: float
    to_rad: float

    @property
    def length_m(self) -> float:
        """Length along the bend [m]."""
        return self.radius_m * (self.to_rad - self.from_rad)

    @property
    def area_under_m2(self) -> float:
        """Area between the bend and the floor, counted from left to right [m2]."""

        def primitive(angle: float) -> float:
            lifted = self.centre_z_m * self.radius_m * math.sin(angle)
            return lifted + self.radius_m**2 / 2 * (angle + math.sin(angle) * math.cos(angle))

        return primitive(self.to_rad) - primitive(self.from_rad)

    def at(self, along_m: float) -> Point:
        """Give the point a distance along the bend [m]."""
        angle = self.from_rad + along_m / self.radius_m
        return (
            self.centre_y_m + self.radius_m * math.sin(angle),
            self.centre_z_m + self.radius_m * math.cos(angle),
        )

    def nearest_m(self, y_m: float, z_m: float) -> float:
        """Give the distance along the bend of its point nearest to (y, z) [m]."""
        middle = (self.from_rad + self.to_rad) / 2
        angle = math.atan2(y_m - self.centre_y_m, z_m - self.centre_z_m)
        turned = math.remainder(angle - middle, math.tau) * self.radius_m + self.length_m / 2
        return min(max(turned, 0.0), self.length_m)

    def at_height_m(self, z_m: float) -> tuple[float, ...]:
        """Give where along the bend it stands z above the floor [m]."""
        return self._at_angles(0.0, (z_m - self.centre_z_m) / self.radius_m)

    def at_straight_m(self, point: Point, straight_m: float) -> tuple[float, ...]:
        """Give where along the bend it is a straight distance from a point [m]."""
        y, z = point[0] - self.centre_y_m, point[1] - self.centre_z_m
        away = math.hypot(y, z)
        if away < _CLOSE_M:
            return ()
        cosine = (away**2 + self.radius_m**2 - straight_m**2) / (2 * away * self.radius_m)
        return self._at_angles(math.atan2(y, z), cosine)

    def mirrored(self) -> "Bend":
        """Give the same bend seen from behind."""
        return Bend(-self.centre_y_m, self.centre_z_m, self.radius_m, -self.to_rad, -self.from_rad)

    def _at_angles(self, about_rad: float, cosine: float) -> tuple[float, ...]:
        if abs(cosine) > 1 + _CLOSE_M:
            return ()
        turn = math.acos(max(-1.0, min(1.0, cosine)))
        found = {
            (about_rad + sign * turn + whole * math.tau - self.from_rad) * self.radius_m
            for sign in (-1, 1)
            for whole in (-1, 0, 1)
        }
        return _within(tuple(found), self.length_m)


Piece: TypeAlias = Straight | Bend


def _within(found_m: tuple[float, ...], length_m: float) -> tuple[float, ...]:
    kept = (m for m in found_m if -_CLOSE_M <= m <= length_m + _CLOSE_M)
    return tuple(sorted(min(max(m, 0.0), length_m) for m in kept))
