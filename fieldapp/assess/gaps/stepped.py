"""The rock between rows of different profiles: where its places are, on the flat and in space.

Between two rows the rock runs straight from the places of one outline to the places of the
other that are as far along their lines. From a place there to a bolt the unrolled distance is
taken, and what the change of profile adds in space: their squares are added up. Of what can be
taken it is the safe one: never shorter than the unrolled figure, never shorter than the straight
line in space, which no rock is shorter than; between rows of one profile it is the unrolled
figure itself.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from fieldapp.assess.gaps.area import FaceLine, Points
from fieldapp.assess.gaps.ground import GapGround
from fieldapp.assess.profile.profile import Profile, outline_m
from fieldapp.assess.seen import Row

Floats = NDArray[np.float64]
Indices = NDArray[np.integer]
Planes = NDArray[np.complex128]
"""Places across the drive: y + z i [m]."""

Site = tuple[int, float]
"""A bolt: the index of its row, and how far from the crown it stands [m]."""


def stepped_rock(ground: GapGround) -> "SteppedRock":
    """Lay out ground of which not every row has the same profile.

    Parameters
    ----------
    ground : GapGround
        Rows, each with its profile, and the face. [m]

    Returns
    -------
    SteppedRock
        The rock, its rows and the face. [m]

    Source
    ------
    See the top of this module for the distance, which is common practice, no source.
    """
    joint_m = ground.seen.round.joint_m
    return SteppedRock(
        rows=tuple(row for row, _ in ground.rows),
        flat_m=np.array([float(row.chainage_m - joint_m) for row, _ in ground.rows]),
        along_m=np.array([x for _, x in ground.rows]),
        face=ground.face,
    )


@dataclass(frozen=True, eq=False)
class Ring:
    """An outline as places along it: how far from the crown, and where in space [m]."""

    s_m: Floats
    points_m: Planes

    def at(self, s_m: Floats) -> Planes:
        """Say where places along it are; what lies past its feet is taken to be there [m]."""
        return np.asarray(np.interp(s_m, self.s_m, self.points_m))


@lru_cache(maxsize=64)
def _ring_of(profile: Profile) -> Ring:
    places = outline_m(profile)
    points = np.array([complex(*point) for _, point in places])
    return Ring(np.array([s_m for s_m, _ in places]), points)


@dataclass(frozen=True, eq=False)
class Bolts:
    """Of each bolt its row and profile, where on the flat it stands, and where in space [m]."""

    row: Indices
    shape: Indices
    flat_m: Floats
    s_m: Floats
    stand_m: Planes


@dataclass(frozen=True, eq=False)
class Spots:
    """Where places are: on the unrolled rock along it and as chainages are, and in space [m]."""

    along_m: Points
    flat_m: Points
    in_space_m: Planes
    """Straight between the outlines of the rows beside them."""
    unchanged_m: Planes
    """On each profile, as if it went through; shape (profiles, places)."""


@dataclass(frozen=True, eq=False)
class SteppedRock:
    """Rows of different profiles, and the face: the rock that gaps are looked for on.

    A place is (u, f): its share of the way from the first row to the face, and of the way along
    the line to be supported, from left to right. Lengths along the drive are counted from the
    joint, either flat as chainages are, or along the rock, with the steps between rows.
    """

    rows: tuple[Row, ...]
    flat_m: Floats
    along_m: Floats
    """Where each row is, flat and along the rock."""
    face: FaceLine
    """Along the rock."""
    lines_m: Floats = field(init=False, repr=False)
    """Left and right end of each row's line."""
    flat_face: FaceLine = field(init=False, repr=False)
    _rings: tuple[Ring, ...] = field(init=False, repr=False)
    """Of its profiles, each once."""
    _shape_of: Indices = field(init=False, repr=False)
    """Of each row."""
    _first_of: list[int] = field(init=False, repr=False)
    """The first row of each profile."""

    def __post_init__(self) -> None:
        lines = [(row.line.left_s_m, row.line.right_s_m) for row in self.rows]
        object.__setattr__(self, "lines_m", np.array(lines))
        longer_m = float(self.along_m[-1] - self.flat_m[-1])
        flat = tuple((float(x) - longer_m, float(s)) for x, s in self.face.corners)
        object.__setattr__(self, "flat_face", FaceLine(flat))
        shapes = list(dict.fromkeys(row.profile for row in self.rows))
        object.__setattr__(self, "_rings", tuple(map(_ring_of, shapes)))
        of = [shapes.index(row.profile) for row in self.rows]
        object.__setattr__(self, "_shape_of", np.array(of))
        object.__setattr__(self, "_first_of", [of.index(n) for n in range(len(shapes))])

    def bolts(self, sites: Sequence[Site]) -> Bolts:
        """Say where bolts stand."""
        row = np.array([row for row, _ in sites], dtype=np.int64)
        shape, s_m = self._shape_of[row], np.array([s_m for _, s_m in sites])
        on_each = self._on_each([s_m] * len(self._rings))
        stand_m = on_each[shape, np.arange(len(sites))]
        return Bolts(row, shape, self.flat_m[row], s_m, stand_m)

    def spots(self, places: Points) -> Spots:
        """Say where places are, each given as its shares (u, f)."""
        u, f = places.T
        x = self.along_m[0] + u * (self._to_face_m(f) - self.along_m[0])
        outbye, inbye, share = self._beside(x)
        left, right = self._lines_between(outbye, inbye, share)
        s = left + f * (right - left)
        low, high = self.lines_m[self._first_of].T[:, :, None]
        on_own = self._on_each(low + f * (high - low))
        each = np.arange(len(places))
        from_m, to_m = (on_own[self._shape_of[row], each] for row in (outbye, inbye))
        return Spots(
            along_m=np.column_stack([x, s]),
            flat_m=np.column_stack([self._flat_of(x), s]),
            in_space_m=from_m + share * (to_m - from_m),
            unchanged_m=self._on_each([s] * len(self._rings)),
        )

    def place_of(self, flat_m: float, s_m: float) -> Points:
        """Give a place of the flat drive as its shares (u, f); shape (1, 2)."""
        along = float(np.interp(flat_m, self.flat_m, self.along_m))
        along += max(flat_m - self.flat_m[-1], 0.0)
        left_m, right_m = self._lines_between(*self._beside(np.array([along])))[:, 0]
        f = (s_m - left_m) / (right_m - left_m)
        u = (along - self.along_m[0]) / (self._to_face_m(np.array([f]))[0] - self.along_m[0])
        return np.asarray(np.clip([[u, f]], 0.0, 1.0))

    def profiles_near(self, along_m: Floats) -> Indices:
        """Give the profiles of the two rows on each side of places; shape (places, 4)."""
        outbye = self._beside(along_m)[0]
        rows = np.clip(outbye[:, None] + np.arange(-1, 3), 0, len(self.rows) - 1)
        return np.asarray(self._shape_of[rows])

    def radii_m(self, spots: Spots, bolts: Bolts) -> Floats:
        """Give how wide a circle about each place may be: to the nearest bolt, or the face [m].

        Only a bolt that is no farther on the flat than the one nearest there is in space can be
        the nearest in space: of the others no distance is worked out.
        """
        to_face = self.face.distances_m(spots.along_m)
        if not len(bolts.row):
            return np.asarray(to_face)
        squares = self.flat_squares_m2(spots.flat_m, bolts)
        each, first = np.arange(len(squares)), squares.argmin(axis=1)
        most = squares[each, first] + self._more_m2(spots, each, first, bolts)
        place, bolt = np.nonzero(squares <= most[:, None])
        found = squares[place, bolt] + self._more_m2(spots, place, bolt, bolts)
        least = np.minimum.reduceat(found, np.searchsorted(place, each))
        return np.asarray(np.minimum(to_face, np.sqrt(least)))

    def squares_m2(self, spots: Spots, near: Indices, bolts: Bolts) -> Floats:
        """Measure in space from each place to some bolts, shape as that of `near` [m²]."""
        along = spots.flat_m[:, 0, None] - bolts.flat_m[near]
        across = spots.flat_m[:, 1, None] - bolts.s_m[near]
        each = np.arange(len(near))[:, None]
        more = self._more_m2(spots, each, near, bolts)
        return np.asarray(along * along + across * across + more)

    def flat_squares_m2(self, flat_m: Points, bolts: Bolts) -> Floats:
        """Measure from each place to each bolt as if no profile had changed [m²]."""
        along = flat_m[:, 0, None] - bolts.flat_m
        across = flat_m[:, 1, None] - bolts.s_m
        along *= along
        across *= across
        along += across
        return np.asarray(along)

    def lengths_m(self) -> tuple[float, float]:
        """Give how long and how wide the rock is [m]."""
        along_m = float(self.face.corners[:, 0].max() - self.along_m[0])
        return along_m, float((self.lines_m[:, 1] - self.lines_m[:, 0]).max())

    def _more_m2(self, spots: Spots, place: Indices, bolt: Indices, bolts: Bolts) -> Floats:
        """Give by how much squares are greater in space than if no profile had changed."""
        unchanged = spots.unchanged_m[bolts.shape[bolt], place]
        stand = bolts.stand_m[bolt]
        there = _square(spots.in_space_m[place] - stand)
        return np.asarray(np.maximum(there - _square(unchanged - stand), 0.0))

    def _beside(self, along_m: Floats) -> tuple[Indices, Indices, Floats]:
        """Give the rows that places lie between, and how far from the first to the second."""
        last = len(self.rows) - 1
        outbye = np.clip(np.searchsorted(self.along_m, along_m, side="right") - 1, 0, last)
        inbye = np.minimum(outbye + 1, last)
        apart = self.along_m[inbye] - self.along_m[outbye]
        share = (along_m - self.along_m[outbye]) / np.where(apart > 0, apart, 1.0)
        return outbye, inbye, np.clip(share, 0.0, 1.0)

    def _on_each(self, s_m: Iterable[Floats]) -> Planes:
        """Say where places along each profile are; shape (profiles, places)."""
        return np.array([ring.at(some) for ring, some in zip(self._rings, s_m, strict=True)])

    def _flat_of(self, along_m: Floats) -> Floats:
        """Give how far from the joint places along the rock are as chainages are."""
        past = np.maximum(along_m - self.along_m[-1], 0.0)
        return np.asarray(np.interp(along_m, self.along_m, self.flat_m) + past)

    def _to_face_m(self, f: Floats) -> Floats:
        """Give where the face stands at shares of the last row's line."""
        s_m = self.lines_m[-1, 0] + f * (self.lines_m[-1, 1] - self.lines_m[-1, 0])
        return np.asarray(np.interp(s_m, self.face.corners[:, 1], self.face.corners[:, 0]))

    def _lines_between(self, outbye: Indices, inbye: Indices, share: Floats) -> Floats:
        """Give left and right ends of the line at places between rows; shape (2, places)."""
        from_m, to_m = self.lines_m.T[:, outbye], self.lines_m.T[:, inbye]
        return np.asarray(from_m + share * (to_m - from_m))


def _square(apart: Planes) -> Floats:
    return np.asarray(apart.real**2 + apart.imag**2)
