"""The largest gap between bolts where the profile changes between rows.

A circle's middle lies on the rock, and its width is measured as `stepped` measures there. The
rock is looked at in cells, which are halved where a wider circle may still have room.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Final

import numpy as np

from fieldapp.assess.bolts_seen import Bolt
from fieldapp.assess.gaps.area import Points, supported_area
from fieldapp.assess.gaps.largest import Gap, largest_gap
from fieldapp.assess.gaps.stepped import Bolts, Floats, Indices, Site, Spots, SteppedRock

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


@dataclass(frozen=True, eq=False)
class _Cells:
    """Parts of the rock: their middles, and how wide a circle about each may be [m]."""

    places: Points
    radii_m: Floats
    half: Floats
    """Half of their sides, as shares of the rock's."""


@dataclass(frozen=True, eq=False)
class GapsInSpace:
    """Looks for gaps on rock that steps; cells are laid out once for all of its bolts."""

    rock: SteppedRock

    def between(self, held: Sequence[Bolt]) -> Gap:
        """Find the largest gap between bolts; along the rock, to 0.1 mm, no narrower than flat."""
        index = {row.number: place for place, row in enumerate(self.rock.rows)}
        return self.widest([(index[bolt.row], bolt.s_m) for bolt in held])

    def widest(self, sites: Sequence[Site]) -> Gap:
        """Find the widest circle that holds no bolt; cells without room for a wider are left."""
        bolts = self.rock.bolts(sites)
        best = self._widest_flat(bolts)
        best_m = float(self.rock.radii_m(self.rock.spots(best), bolts)[0])
        half = 0.5 / np.array(self._counts())
        cells = _Cells(self._places, self.rock.radii_m(self._spots_of_cells, bolts), half)
        near: Indices | None = None
        while True:
            if cells.radii_m.max(initial=0.0) > best_m:
                top = int(cells.radii_m.argmax())
                best, best_m = cells.places[top][None], float(cells.radii_m[top])
            half_m = float(np.hypot(*(cells.half * self.rock.lengths_m())))
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

    def _quartered(self, cells: _Cells, kept: Indices, near: Indices, bolts: Bolts) -> _Cells:
        places = (cells.places[kept][:, None] + cells.half * _QUARTERS).reshape(-1, 2)
        spots = self.rock.spots(places)
        to_bolt = np.sqrt(self.rock.squares_m2(spots, near, bolts).min(axis=1, initial=np.inf))
        radii = np.minimum(self.rock.face.distances_m(spots.along_m), to_bolt)
        return _Cells(places, radii, cells.half / 2)

    def _gap(self, place: Points, radius_m: float, bolts: Bolts) -> Gap:
        spots = self.rock.spots(place)
        every = np.arange(len(bolts.row))[None]
        off_m = np.sqrt(self.rock.squares_m2(spots, every, bolts))[0]
        to_face = float(self.rock.face.distances_m(spots.along_m)[0])
        return Gap(
            centre_m=(float(spots.along_m[0, 0]), float(spots.along_m[0, 1])),
            diameter_m=2 * radius_m,
            touching=tuple(np.flatnonzero(off_m - radius_m < _TOUCH_M).tolist()),
            touches_face=to_face - radius_m < _TOUCH_M,
        )

    @cached_property
    def _places(self) -> Points:
        """Give the middles of cells all over the rock."""
        u, f = ((np.arange(it) + 0.5) / it for it in self._counts())
        return np.stack(np.meshgrid(u, f, indexing="ij"), axis=-1).reshape(-1, 2)

    @cached_property
    def _spots_of_cells(self) -> Spots:
        return self.rock.spots(self._places)

    def _near(self, cells: Indices, bolts: Bolts, within_m: Floats) -> Indices:
        """Give the bolts that may hold a circle of each cell; shape (cells, bolts)."""
        squares = self.rock.flat_squares_m2(self._spots_of_cells.flat_m[cells], bolts)
        most = int((squares <= within_m[:, None] ** 2).sum(axis=1).max(initial=0))
        return np.asarray(np.argsort(squares, axis=1)[:, :most])

    def _by_steps(self, cells: Indices, near: Indices, bolts: Bolts) -> Indices:
        """Give the cells near which the rock steps: elsewhere no circle is wider than flat."""
        beside = self.rock.profiles_near(self._spots_of_cells.along_m[cells, 0])
        shapes = np.concatenate([beside, bolts.shape[near]], axis=1)
        return np.flatnonzero((shapes != shapes[:, :1]).any(axis=1))

    def _widest_flat(self, bolts: Bolts) -> Points:
        """Give the middle of the gap on the flat drive: it is never to come out narrower."""
        left, right = (
            [(float(x), float(s)) for x, s in zip(self.rock.flat_m, edge, strict=True)]
            for edge in self.rock.lines_m.T
        )
        try:
            area = supported_area(left, right, self.rock.flat_face)
        except ValueError:  # rows at one chainage: between them there is no ground but the step
            return np.array([[0.5, 0.5]])
        sites = np.column_stack([self.rock.flat_m[bolts.row], bolts.s_m])
        return self.rock.place_of(*largest_gap(sites, area, self.rock.flat_face).centre_m)

    def _counts(self) -> tuple[int, int]:
        """Give how many places are tried along the drive, and across."""
        along, across = (int(it / _CELL_M) + 1 for it in self.rock.lengths_m())
        return min(along, _MOST), min(across, _MOST)
