"""The largest gap between bolts where the profile changes between rows.

A circle's middle lies on the rock, which between two rows runs straight from the places of one
outline to the places of the other that are as far along their lines. From there to a bolt the
unrolled distance is taken, and what the change of profile adds in space: their squares are
added up. Of what can be taken it is the safe one: never shorter than the unrolled figure,
never shorter than the straight line in space, which no rock is shorter than; between rows of
one profile it is the unrolled figure itself.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Final

import numpy as np
from numpy.typing import NDArray

from fieldapp.assess.bolts_seen import Bolt
from fieldapp.assess.gaps.area import FaceLine, Points, supported_area
from fieldapp.assess.gaps.ground import GapGround
from fieldapp.assess.gaps.largest import Gap, largest_gap
from fieldapp.assess.profile.profile import Profile, outline_m
from fieldapp.assess.seen import Row

_APART_M: Final = 0.16
"""So near one another middles are tried at first, on a round of no more than so many."""
_MOST: Final = 96
_NEARLY_M: Final = 0.15
"""A circle whose radius is so much less at first may still come out the widest."""
_FLAT_M: Final = 1e-6
_CLOSER: Final = 0.65
_TIMES: Final = 20  # 0.16 m × 0.65²⁰ is 0.03 mm
_AT_ONCE: Final = 100_000  # distances: a tablet has little memory
_ASIDE: Final = (-1.0, -0.5, 0.0, 0.5, 1.0)
_AROUND: Final = np.array([(u, f) for u in _ASIDE for f in _ASIDE])
_TOUCH_M: Final = 5e-4

Floats = NDArray[np.float64]
Indices = NDArray[np.integer]

Site = tuple[int, float]
"""A bolt: the index of its row, and how far from the crown it stands [m]."""


def widest_in_space(ground: GapGround, held: Sequence[Bolt]) -> Gap:
    """Find the largest gap between bolts where not every row has the same profile.

    Parameters
    ----------
    ground : GapGround
        Rows, each with its profile, and the face. [m]
    held : sequence of Bolt
        The bolts that hold. [m]

    Returns
    -------
    Gap
        Its middle on the unrolled rock, along which the steps between rows are counted; to
        0.1 mm, and never narrower than on the flat drive. [m]

    Source
    ------
    Largest empty circle by a search of places that comes closer; see the top of this module for
    the distance, which is common practice, no source.
    """
    joint_m = ground.seen.round.joint_m
    rock = SteppedRock(
        rows=tuple(row for row, _ in ground.rows),
        flat_m=np.array([float(row.chainage_m - joint_m) for row, _ in ground.rows]),
        along_m=np.array([x for _, x in ground.rows]),
        face=ground.face,
    )
    index = {row.number: place for place, (row, _) in enumerate(ground.rows)}
    return rock.widest([(index[bolt.row], bolt.s_m) for bolt in held])


@dataclass(frozen=True, eq=False)
class Ring:
    """An outline as places along it: how far from the crown, and where in space [m]."""

    s_m: Floats
    points_m: Floats
    """(y, z) of each."""

    def at(self, s_m: Floats) -> Floats:
        """Give (y, z) of places along it; what lies past its feet is taken to be there [m]."""
        y, z = self.points_m.T
        return np.stack([np.interp(s_m, self.s_m, y), np.interp(s_m, self.s_m, z)], axis=-1)


@lru_cache(maxsize=64)
def _ring_of(profile: Profile) -> Ring:
    places = outline_m(profile)
    return Ring(np.array([s_m for s_m, _ in places]), np.array([point for _, point in places]))


@dataclass(frozen=True, eq=False)
class _Bolts:
    """Of each bolt its row, how far from the crown it stands, and where in space [m]."""

    row: Indices
    s_m: Floats
    stand_m: Floats


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
    _shapes: tuple[Profile, ...] = field(init=False, repr=False)
    _shape_of: Indices = field(init=False, repr=False)
    """Of each row."""

    def __post_init__(self) -> None:
        lines = [(row.line.left_s_m, row.line.right_s_m) for row in self.rows]
        object.__setattr__(self, "lines_m", np.array(lines))
        longer_m = float(self.along_m[-1] - self.flat_m[-1])
        flat = tuple((float(x) - longer_m, float(s)) for x, s in self.face.corners)
        object.__setattr__(self, "flat_face", FaceLine(flat))
        shapes = list(dict.fromkeys(row.profile for row in self.rows))
        object.__setattr__(self, "_shapes", tuple(shapes))
        object.__setattr__(
            self, "_shape_of", np.array([shapes.index(row.profile) for row in self.rows])
        )

    def widest(self, sites: Sequence[Site]) -> Gap:
        """Find the widest circle that holds no bolt; its middle along the rock [m]."""
        stand = [_ring_of(self.rows[row].profile).at(np.array(s_m)) for row, s_m in sites]
        bolts = _Bolts(
            row=np.array([row for row, _ in sites], dtype=np.int64),
            s_m=np.array([s_m for _, s_m in sites]),
            stand_m=np.array(stand).reshape(-1, 2),
        )
        places = np.concatenate([*self._tried(bolts), self._widest_flat(bolts)])
        off = 1.0 / (np.array(self._counts()) - 1)
        for _ in range(_TIMES):
            around = np.clip(places[:, None] + off * _AROUND, 0.0, 1.0)
            radii = self._radii_m(around.reshape(-1, 2), bolts).reshape(len(places), -1)
            places = around[np.arange(len(places)), radii.argmax(axis=1)]
            off *= _CLOSER
        radii = self._radii_m(places, bolts)
        best = int(radii.argmax())
        middle = self._map_m(places[best][None])
        off_m = self._distances_m(places[best][None], bolts)[0]
        to_face = float(self.face.distances_m(middle)[0])
        return Gap(
            centre_m=(float(middle[0, 0]), float(middle[0, 1])),
            diameter_m=2 * float(radii[best]),
            touching=tuple(np.flatnonzero(off_m - radii[best] < _TOUCH_M).tolist()),
            touches_face=to_face - float(radii[best]) < _TOUCH_M,
        )

    def _tried(self, bolts: _Bolts) -> Iterator[Points]:
        """Yield places whose circles are the widest round about them, and wider than flat."""
        count = self._counts()
        u, f = (np.linspace(0.0, 1.0, it) for it in count)
        places = np.stack(np.meshgrid(u, f, indexing="ij"), axis=-1)
        every = places.reshape(-1, 2)
        radii = self._radii_m(every, bolts).reshape(count)
        flat = self._radii_m(every, bolts, in_space=False).reshape(count)
        framed = np.pad(radii, 1, constant_values=-np.inf)
        beside = [framed[a : a + count[0], b : b + count[1]] for a in range(3) for b in range(3)]
        widest = (radii >= np.max(beside, axis=0)) & (radii >= radii.max() - _NEARLY_M)
        yield places[widest & (radii > flat + _FLAT_M)]

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
        ends = self._lines_at(np.array([along]))[0]
        f = (s - ends[0]) / (ends[1] - ends[0])
        u = (along - self.along_m[0]) / (self._to_face_m(np.array([f]))[0] - self.along_m[0])
        return np.asarray(np.clip([[u, f]], 0.0, 1.0))

    def _radii_m(self, places: Points, bolts: _Bolts, *, in_space: bool = True) -> Floats:
        """Give how wide a circle about each place may be: to the nearest bolt, or to the face."""
        here = self._map_m(places)
        to_face = self.face.distances_m(here)
        if not in_space:
            flat = np.column_stack([self._flat_of(here[:, 0]), here[:, 1]])
            to_face = self.flat_face.distances_m(flat)
        if not len(bolts.row):
            return np.asarray(to_face)
        nearest = [
            self._distances_m(some, bolts, in_space=in_space).min(axis=1)
            for some in np.array_split(places, len(places) * len(bolts.row) // _AT_ONCE + 1)
        ]
        return np.asarray(np.minimum(to_face, np.concatenate(nearest)))

    def _distances_m(self, places: Points, bolts: _Bolts, *, in_space: bool = True) -> Floats:
        """Measure from each place to each bolt; shape (places, bolts)."""
        here = self._map_m(places)
        across = here[:, 1, None] - bolts.s_m
        squares = (self._flat_of(here[:, 0])[:, None] - self.flat_m[bolts.row]) ** 2 + across**2
        if in_space:
            squares += self._more_m2(places, here[:, 1], bolts)
        return np.asarray(np.sqrt(squares))

    def _more_m2(self, places: Points, s_m: Floats, bolts: _Bolts) -> Floats:
        """Give by how much squares are greater in space than if no profile had changed."""
        of_shapes = [_ring_of(it).at(s_m) for it in self._shapes]
        unchanged = np.stack(of_shapes, axis=1)[:, self._shape_of[bolts.row]]
        there = _square(self._in_space_m(places)[:, None] - bolts.stand_m)
        return np.asarray(np.maximum(there - _square(unchanged - bolts.stand_m), 0.0))

    def _flat_of(self, along_m: Floats) -> Floats:
        """Give how far from the joint places along the rock are as chainages are."""
        past = np.maximum(along_m - self.along_m[-1], 0.0)
        return np.asarray(np.interp(along_m, self.along_m, self.flat_m) + past)

    def _map_m(self, places: Points) -> Points:
        """Give where places lie on the unrolled rock: along it, and from the crown."""
        u, f = places.T
        x = self.along_m[0] + u * (self._to_face_m(f) - self.along_m[0])
        left, right = self._lines_at(x).T
        return np.column_stack([x, left + f * (right - left)])

    def _in_space_m(self, places: Points) -> Floats:
        """Give (y, z) of places: straight between the outlines of the rows beside them."""
        first = [int(np.argmax(self._shape_of == n)) for n in range(len(self._shapes))]
        s_m = [left + places[:, 1] * (right - left) for left, right in self.lines_m[first]]
        rings = map(_ring_of, self._shapes)
        of_shapes = np.stack([ring.at(s) for ring, s in zip(rings, s_m, strict=True)], axis=1)
        outbye, inbye, share = self._beside(self._map_m(places)[:, 0])
        each = np.arange(len(places))
        from_m, to_m = (of_shapes[each, self._shape_of[row]] for row in (outbye, inbye))
        return np.asarray(from_m + share * (to_m - from_m))

    def _to_face_m(self, f: Floats) -> Floats:
        """Give where the face stands at shares of the last row's line."""
        s_m = self.lines_m[-1, 0] + f * (self.lines_m[-1, 1] - self.lines_m[-1, 0])
        return np.asarray(np.interp(s_m, self.face.corners[:, 1], self.face.corners[:, 0]))

    def _lines_at(self, along_m: Floats) -> Floats:
        """Give the ends of the line at places along the rock."""
        outbye, inbye, share = self._beside(along_m)
        from_m, to_m = self.lines_m[outbye], self.lines_m[inbye]
        return np.asarray(from_m + share * (to_m - from_m))

    def _beside(self, along_m: Floats) -> tuple[Indices, Indices, Floats]:
        """Give the rows that places lie between, and how far from the first to the second."""
        last = len(self.rows) - 1
        outbye = np.clip(np.searchsorted(self.along_m, along_m, side="right") - 1, 0, last)
        inbye = np.minimum(outbye + 1, last)
        apart = self.along_m[inbye] - self.along_m[outbye]
        share = (along_m - self.along_m[outbye]) / np.where(apart > 0, apart, 1.0)
        return outbye, inbye, np.clip(share, 0.0, 1.0)[:, None]

    def _length_m(self) -> float:
        return float(self.face.corners[:, 0].max() - self.along_m[0])

    def _counts(self) -> tuple[int, int]:
        """Give how many places are tried along the drive, and across."""
        across_m = float((self.lines_m[:, 1] - self.lines_m[:, 0]).max())
        along, across = (int(it / _APART_M) + 2 for it in (self._length_m(), across_m))
        return min(along, _MOST), min(across, _MOST)


def _square(apart: Floats) -> Floats:
    return np.asarray(apart[..., 0] ** 2 + apart[..., 1] ** 2)
