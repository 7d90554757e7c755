"""The largest gap between bolts where the profile changes between rows.

A circle's middle lies on the rock, which between two rows runs straight from the places of one
outline to the places of the other that are as far along their lines. From there to a bolt the
unrolled distance is taken, and what the change of profile adds in space: their squares are
added up. Of what can be taken it is the safe one: never shorter than the unrolled figure,
never shorter than the straight line in space, which no rock is shorter than; between rows of
one profile it is the unrolled figure itself.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from functools import cached_property, lru_cache
from typing import Final

import numpy as np
from numpy.typing import NDArray

from fieldapp.assess.bolts_seen import Bolt
from fieldapp.assess.gaps.area import FaceLine, Points, supported_area
from fieldapp.assess.gaps.ground import GapGround
from fieldapp.assess.gaps.largest import Gap, largest_gap
from fieldapp.assess.profile.profile import Profile, outline_m
from fieldapp.assess.seen import Row

_CELL_M: Final = 0.25
"""The rock is first looked at in cells so large, on a round of no more than so many each way."""
_MOST: Final = 96
_STEEPEST: Final = 1.5
"""A circle grows by so much at most for each metre that its middle moves: flat it is 1."""
_FINE_M: Final = 5e-5
"""Room for a circle that is wider by less than that is not looked for."""
_AT_ONCE: Final = 4_096
"""So many cells are halved at most, those of the widest circles: ties can be without end."""
_QUARTERS: Final = np.array([(u, f) for u in (-0.5, 0.5) for f in (-0.5, 0.5)])
_TOUCH_M: Final = 5e-4

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
        The rock that its gaps are looked for on. [m]

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
class _Bolts:
    """Of each bolt its row and profile, where on the flat it stands, and where in space [m]."""

    row: Indices
    shape: Indices
    flat_m: Floats
    s_m: Floats
    stand_m: Planes


@dataclass(frozen=True, eq=False)
class _Spots:
    """Where places are: on the unrolled rock along it and as chainages are, and in space [m]."""

    along_m: Points
    flat_m: Points
    in_space_m: Planes
    """Straight between the outlines of the rows beside them."""
    unchanged_m: Planes
    """On each profile, as if it went through; shape (profiles, places)."""


@dataclass(frozen=True, eq=False)
class _Cells:
    """Parts of the rock: their middles, and how wide a circle about each may be [m]."""

    places: Points
    radii_m: Floats
    half: Floats
    """Half of their sides, as shares of the rock's."""


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

    def between(self, held: Sequence[Bolt]) -> Gap:
        """Find the largest gap between bolts; along the rock, to 0.1 mm, no narrower than flat."""
        index = {row.number: place for place, row in enumerate(self.rows)}
        return self.widest([(index[bolt.row], bolt.s_m) for bolt in held])

    def widest(self, sites: Sequence[Site]) -> Gap:
        """Find the widest circle that holds no bolt; cells without room for a wider are left."""
        bolts = self._bolts(sites)
        best = self._widest_flat(bolts)
        best_m = float(self._radii_m(self._spots(best), bolts)[0])
        half = 0.5 / np.array(self._counts())
        cells = _Cells(self._places, self._radii_m(self._spots_of_cells, bolts), half)
        near: Indices | None = None
        while True:
            if cells.radii_m.max(initial=0.0) > best_m:
                top = int(cells.radii_m.argmax())
                best, best_m = cells.places[top][None], float(cells.radii_m[top])
            half_m = float(np.hypot(*(cells.half * self._lengths_m())))
            may_be = cells.radii_m + _STEEPEST * half_m
            kept = np.flatnonzero(may_be > best_m + _FINE_M)
            kept = kept[np.argsort(-may_be[kept], kind="stable")[:_AT_ONCE]]
            if near is None:
                near = self._near(kept, bolts, may_be[kept] + half_m)
                stepped = self._by_steps(kept, near, bolts)
                kept, near = kept[stepped], near[stepped]
            else:
                near = near[kept]
            if not len(kept):
                return self._gap(best, best_m, bolts)
            near = np.repeat(near, len(_QUARTERS), axis=0)
            cells = self._quartered(cells, kept, near, bolts)

    def _quartered(self, cells: _Cells, kept: Indices, near: Indices, bolts: _Bolts) -> _Cells:
        places = (cells.places[kept][:, None] + cells.half * _QUARTERS).reshape(-1, 2)
        spots = self._spots(places)
        to_bolt = np.sqrt(self._squares_m2(spots, near, bolts).min(axis=1, initial=np.inf))
        radii = np.minimum(self.face.distances_m(spots.along_m), to_bolt)
        return _Cells(places, radii, cells.half / 2)

    def _gap(self, place: Points, radius_m: float, bolts: _Bolts) -> Gap:
        spots = self._spots(place)
        every = np.arange(len(bolts.row))[None]
        off_m = np.sqrt(self._squares_m2(spots, every, bolts))[0]
        to_face = float(self.face.distances_m(spots.along_m)[0])
        return Gap(
            centre_m=(float(spots.along_m[0, 0]), float(spots.along_m[0, 1])),
            diameter_m=2 * radius_m,
            touching=tuple(np.flatnonzero(off_m - radius_m < _TOUCH_M).tolist()),
            touches_face=to_face - radius_m < _TOUCH_M,
        )

    def _bolts(self, sites: Sequence[Site]) -> _Bolts:
        row = np.array([row for row, _ in sites], dtype=np.int64)
        shape, s_m = self._shape_of[row], np.array([s_m for _, s_m in sites])
        on_each = self._on_each([s_m] * len(self._rings))
        stand_m = on_each[shape, np.arange(len(sites))]
        return _Bolts(row, shape, self.flat_m[row], s_m, stand_m)

    @cached_property
    def _places(self) -> Points:
        """Give the middles of cells all over the rock."""
        u, f = ((np.arange(it) + 0.5) / it for it in self._counts())
        return np.stack(np.meshgrid(u, f, indexing="ij"), axis=-1).reshape(-1, 2)

    @cached_property
    def _spots_of_cells(self) -> _Spots:
        return self._spots(self._places)

    def _near(self, cells: Indices, bolts: _Bolts, within_m: Floats) -> Indices:
        """Give the bolts that may hold a circle of each cell; shape (cells, bolts)."""
        squares = self._flat_squares_m2(self._spots_of_cells.flat_m[cells], bolts)
        most = int((squares <= within_m[:, None] ** 2).sum(axis=1).max(initial=0))
        return np.asarray(np.argsort(squares, axis=1)[:, :most])

    def _by_steps(self, cells: Indices, near: Indices, bolts: _Bolts) -> Indices:
        """Give the cells near which the rock steps: elsewhere no circle is wider than flat."""
        outbye = self._beside(self._spots_of_cells.along_m[cells, 0])[0]
        rows = np.clip(outbye[:, None] + np.arange(-1, 3), 0, len(self.rows) - 1)
        shapes = np.concatenate([self._shape_of[rows], bolts.shape[near]], axis=1)
        return np.flatnonzero((shapes != shapes[:, :1]).any(axis=1))

    def _widest_flat(self, bolts: _Bolts) -> Points:
        """Give the middle of the gap on the flat drive: it is never to come out narrower."""
        left, right = (
            [(float(x), float(s)) for x, s in zip(self.flat_m, edge, strict=True)]
            for edge in self.lines_m.T
        )
        try:
            area = supported_area(left, right, self.flat_face)
        except ValueError:  # rows at one chainage: between them there is no ground but the step
            return np.array([[0.5, 0.5]])
        sites = np.column_stack([self.flat_m[bolts.row], bolts.s_m])
        x, s = largest_gap(sites, area, self.flat_face).centre_m
        along = float(np.interp(x, self.flat_m, self.along_m)) + max(x - self.flat_m[-1], 0.0)
        left_m, right_m = self._lines_between(*self._beside(np.array([along])))[:, 0]
        f = (s - left_m) / (right_m - left_m)
        u = (along - self.along_m[0]) / (self._to_face_m(np.array([f]))[0] - self.along_m[0])
        return np.asarray(np.clip([[u, f]], 0.0, 1.0))

    def _radii_m(self, spots: _Spots, bolts: _Bolts) -> Floats:
        """Give how wide a circle about each place may be: to the nearest bolt, or to the face.

        Only a bolt that is no farther on the flat than the one nearest there is in space can be
        the nearest in space: of the others no distance is worked out.
        """
        to_face = self.face.distances_m(spots.along_m)
        if not len(bolts.row):
            return np.asarray(to_face)
        squares = self._flat_squares_m2(spots.flat_m, bolts)
        each, first = np.arange(len(squares)), squares.argmin(axis=1)
        most = squares[each, first] + self._more_m2(spots, each, first, bolts)
        place, bolt = np.nonzero(squares <= most[:, None])
        found = squares[place, bolt] + self._more_m2(spots, place, bolt, bolts)
        least = np.minimum.reduceat(found, np.searchsorted(place, each))
        return np.asarray(np.minimum(to_face, np.sqrt(least)))

    def _squares_m2(self, spots: _Spots, near: Indices, bolts: _Bolts) -> Floats:
        """Measure in space from each place to some bolts; shape as that of `near`."""
        along = spots.flat_m[:, 0, None] - bolts.flat_m[near]
        across = spots.flat_m[:, 1, None] - bolts.s_m[near]
        each = np.arange(len(near))[:, None]
        more = self._more_m2(spots, each, near, bolts)
        return np.asarray(along * along + across * across + more)

    def _flat_squares_m2(self, flat_m: Points, bolts: _Bolts) -> Floats:
        """Measure from each place to each bolt as if no profile had changed."""
        along = flat_m[:, 0, None] - bolts.flat_m
        across = flat_m[:, 1, None] - bolts.s_m
        along *= along
        across *= across
        along += across
        return np.asarray(along)

    def _more_m2(self, spots: _Spots, place: Indices, bolt: Indices, bolts: _Bolts) -> Floats:
        """Give by how much squares are greater in space than if no profile had changed."""
        unchanged = spots.unchanged_m[bolts.shape[bolt], place]
        stand = bolts.stand_m[bolt]
        there = _square(spots.in_space_m[place] - stand)
        return np.asarray(np.maximum(there - _square(unchanged - stand), 0.0))

    def _spots(self, places: Points) -> _Spots:
        """Say where places are."""
        u, f = places.T
        x = self.along_m[0] + u * (self._to_face_m(f) - self.along_m[0])
        outbye, inbye, share = self._beside(x)
        left, right = self._lines_between(outbye, inbye, share)
        s = left + f * (right - left)
        low, high = self.lines_m[self._first_of].T[:, :, None]
        on_own = self._on_each(low + f * (high - low))
        each = np.arange(len(places))
        from_m, to_m = (on_own[self._shape_of[row], each] for row in (outbye, inbye))
        return _Spots(
            along_m=np.column_stack([x, s]),
            flat_m=np.column_stack([self._flat_of(x), s]),
            in_space_m=from_m + share * (to_m - from_m),
            unchanged_m=self._on_each([s] * len(self._rings)),
        )

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

    def _beside(self, along_m: Floats) -> tuple[Indices, Indices, Floats]:
        """Give the rows that places lie between, and how far from the first to the second."""
        last = len(self.rows) - 1
        outbye = np.clip(np.searchsorted(self.along_m, along_m, side="right") - 1, 0, last)
        inbye = np.minimum(outbye + 1, last)
        apart = self.along_m[inbye] - self.along_m[outbye]
        share = (along_m - self.along_m[outbye]) / np.where(apart > 0, apart, 1.0)
        return outbye, inbye, np.clip(share, 0.0, 1.0)

    def _lengths_m(self) -> tuple[float, float]:
        """Give how long and how wide the rock is."""
        along_m = float(self.face.corners[:, 0].max() - self.along_m[0])
        return along_m, float((self.lines_m[:, 1] - self.lines_m[:, 0]).max())

    def _counts(self) -> tuple[int, int]:
        """Give how many places are tried along the drive, and across."""
        along, across = (int(it / _CELL_M) + 1 for it in self._lengths_m())
        return min(along, _MOST), min(across, _MOST)


def _square(apart: Planes) -> Floats:
    return np.asarray(apart.real**2 + apart.imag**2)
