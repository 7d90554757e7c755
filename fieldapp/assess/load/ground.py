"""The ground of a round that its bolts carry, and the share of each: in the back, on the walls.

It is the ground of the gaps, half a spacing wider below each row's lowest bolts, so that these
have a whole share too. The face carries the ground that is nearer to it than to the last row:
there stands a place of the face beside each place of the last row.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Final

import numpy as np
import shapely
from numpy.typing import NDArray

from fieldapp.assess.bolts_seen import Bolt
from fieldapp.assess.gaps.area import Area, FaceLine, Points, supported_area
from fieldapp.assess.gaps.ground import GapGround, gap_ground
from fieldapp.assess.gaps.uncertainty import Doubts
from fieldapp.assess.load.tributary import Polygons, Tributary, tributary
from fieldapp.assess.seen import Row, Seen

_FLAT_M: Final = 1e-6
_AT_LEAST_M2: Final = 1e-9


@dataclass(frozen=True)
class Share:
    """The ground that one bolt carries [m²] and its standard uncertainty.

    `measured` tells whether its place and those of its neighbours were, none of them assumed.
    """

    bolt: Bolt
    back_m2: float
    walls_m2: float
    u_m2: float
    measured: bool

    @property
    def area_m2(self) -> float:
        """All of it [m²]."""
        return self.back_m2 + self.walls_m2


@dataclass(frozen=True)
class LoadGround:
    """Bounds of the ground to be carried on the unrolled rock, chainages from the joint [m]."""

    gaps: GapGround
    area: Area
    face: FaceLine

    @cached_property
    def whole(self) -> shapely.Geometry:
        """All of the ground."""
        return shapely.buffer(shapely.Polygon(self.area.outline_m), 0)

    @cached_property
    def back(self) -> shapely.Geometry:
        """The back with its shoulders, between the springlines."""
        low, high = self.area.starts.min(axis=0), self.area.starts.max(axis=0)
        borders = self.gaps.seen.borders
        between = (borders.left_springline_s_m, borders.right_springline_s_m)
        return shapely.intersection(
            self.whole, shapely.box(low[0] - 1, between[0], high[0] + 1, between[1])
        )

    def inside(self, bolts: Sequence[Bolt]) -> list[Bolt]:
        """Keep those that stand in this ground: another carries none of it."""
        if not bolts:
            return []
        held = shapely.intersects_xy(self.whole, self.gaps.places_m(bolts))
        return [bolt for bolt, stands in zip(bolts, held, strict=True) if stands]

    def shares(self, bolts: Sequence[Bolt]) -> tuple[Share, ...]:
        """Divide the ground among bolts that stand in it, in their order."""
        if not bolts:
            return ()
        divided = self._divided(bolts)
        own = slice(len(bolts))
        back = divided.areas_m2(self.back)[own]
        walls = np.maximum(divided.areas_m2(self.whole)[own] - back, 0.0)
        assumed = np.array([bolt.method == "assumed" for bolt in bolts])
        near = self._near(divided, len(bolts))
        doubts = self._doubts_m2(divided, self.gaps.doubts(bolts))
        return tuple(
            Share(
                bolt, float(back[n]), float(walls[n]), float(doubts[n]), not assumed[near[n]].any()
            )
            for n, bolt in enumerate(bolts)
        )

    def outlines(self, bolts: Sequence[Bolt]) -> Polygons:
        """Draw the ground of each bolt, in their order; to be drawn, so it may be empty."""
        if not bolts:
            return np.array([])
        cells = self._divided(bolts).cells[: len(bolts)]
        return np.asarray(shapely.intersection(cells, self.whole))

    def _divided(self, bolts: Sequence[Bolt]) -> Tributary:
        sites = np.concatenate([self.gaps.places_m(bolts), self._feet()])
        return tributary(sites, self.whole)

    def _feet(self) -> Points:
        """Give the places of the face beside those of the last row, where it stands off."""
        last, at_last = self.gaps.rows[-1]
        s = np.array(last.demanded.s_m)
        x = np.interp(s, self.face.corners[:, 1], self.face.corners[:, 0])
        stands_off = x - at_last > _FLAT_M
        return np.column_stack((x[stands_off], s[stands_off]))

    @staticmethod
    def _near(divided: Tributary, bolts: int) -> NDArray[np.bool_]:
        near = np.eye(bolts, dtype=bool)
        one, other = divided.pairs[(divided.pairs < bolts).all(axis=1)].T
        near[one, other] = near[other, one] = True
        return near

    @staticmethod
    def _doubts_m2(divided: Tributary, doubts: Doubts) -> Points:
        """Carry the doubts of places, rows and the face to the areas.

        Source: JCGM 100:2008, 5.1.2 (first order) and 5.2.2: bolts of a row share its step.
        """
        bolts = len(doubts.bolts)
        grown = divided.moved_m()[:bolts]
        own_x = np.array([doubt.chainage_m for doubt in doubts.bolts])
        own_s = np.array([doubt.s_m for doubt in doubts.bolts])
        rows = np.array([doubt.row for doubt in doubts.bolts])
        along, across, face = grown[:, :bolts, 0], grown[:, :bolts, 1], grown[:, bolts:, 0]
        by_row = along @ (rows[:, None] == np.arange(len(doubts.steps_m)))
        by_row[:, -1] += face.sum(axis=1)
        inbye = np.cumsum(by_row[:, ::-1], axis=1)[:, ::-1]
        squares = ((along * own_x) ** 2).sum(axis=1) + ((across * own_s) ** 2).sum(axis=1)
        squares += ((inbye * np.array(doubts.steps_m)) ** 2).sum(axis=1)
        squares += (face.sum(axis=1) * doubts.face_m) ** 2
        return np.asarray(np.sqrt(squares))


def load_ground(seen: Seen) -> LoadGround | None:
    """Lay out the ground of a round for its load.

    Parameters
    ----------
    seen : Seen
        The round. [m]

    Returns
    -------
    LoadGround or None
        None where the rows leave no ground between them. [m]

    Source
    ------
    Common practice, no source.
    """
    gaps = gap_ground(seen)
    if gaps is None:
        return None
    edges = [_edge(row) for row, _ in gaps.rows]
    xs = [x for _, x in gaps.rows]
    (left_x, _), *middle, (right_x, _) = gaps.face.places_m
    face = FaceLine(((left_x, edges[-1][0]), *middle, (right_x, edges[-1][1])))
    left = [(x, edge[0]) for x, edge in zip(xs, edges, strict=True)]
    right = [(x, edge[1]) for x, edge in zip(xs, edges, strict=True)]
    ground = LoadGround(gaps, supported_area(left, right, face), face)
    return ground if shapely.area(ground.whole) > _AT_LEAST_M2 else None


def _edge(row: Row) -> tuple[float, float]:
    """Give how far down the ground of a row goes: half a spacing below its lowest places.

    Never below the floor, nor above the end of the supported line of an offset row.
    """
    places = row.demanded.s_m
    half_m = (places[-1] - places[0]) / (len(places) - 1) / 2 if len(places) > 1 else 0.0
    floor = row.profile.floor_s_m
    left = min(max(places[0] - half_m, floor[0]), row.line.left_s_m)
    return left, max(min(places[-1] + half_m, floor[1]), row.line.right_s_m)
