"""What the placed sheets cover of the rock that a round has to support, and what stays bare."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Final

import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from fieldapp.assess.mesh.placed import (
    EDGES,
    Box,
    Edge,
    Placed,
    old_sheets,
    placed_sheets,
    rectangle,
    union_of,
)
from fieldapp.assess.seen import Seen
from fieldapp.assess.uncertainty import combined_uncertainty

_NOTHING_M2: Final = 1e-6


@dataclass(frozen=True)
class Cover:
    """Rock that no sheet covers, in pieces wider than what doesn't count."""

    bare: tuple[Polygon, ...]
    """The largest first; chainage first, then the distance from the crown [m]."""
    u_m2: float
    """Standard uncertainty of their area together, from the edges of the sheets."""

    @property
    def area_m2(self) -> float:
        """Their area together [m2]."""
        return float(sum(piece.area for piece in self.bare))


def cover_of(seen: Seen, wider_than_m: float) -> Cover:
    """Find the rock between the joint and the last row that no sheet covers.

    Parameters
    ----------
    seen : Seen
        Sheets, rows and bolts. [m]
    wider_than_m : float
        A bare place no wider than this is none. [m]

    Returns
    -------
    Cover
        The bare pieces, and how sure their area is. [m2]

    Source
    ------
    Union of rectangles (shapely). That mesh counts no farther beyond its outermost counting
    plates than the standard says, and a sheet without a plate not at all, is common practice, no
    source. Uncertainty: JCGM 100:2008, 5.1.3, note 2 (each edge moved by its own).
    """
    rock, held = _rock(seen), _held_by_plates(seen)
    sheets = _with_plates(seen, (*old_sheets(seen), *placed_sheets(seen)))
    boxes = [sheet.box for sheet in sheets]
    covered = shapely.intersection(union_of(boxes), held)
    bare = _wide(shapely.difference(rock, covered), wider_than_m)
    area_m2 = sum(piece.area for piece in bare)
    moved = []
    for number, sheet in enumerate(sheets):
        others = union_of([*boxes[:number], *boxes[number + 1 :]])
        for strip in _strips(seen, sheet):
            lost = shapely.difference(shapely.intersection(strip, covered), others)
            if lost.area > _NOTHING_M2:
                left = shapely.union(shapely.difference(rock, covered), lost)
                more = sum(piece.area for piece in _wide(left, wider_than_m))
                moved.append((1.0, abs(more - area_m2)))
    return Cover(tuple(sorted(bare, key=lambda it: -it.area)), combined_uncertainty(moved))


def _rock(seen: Seen) -> BaseGeometry:
    """Give the supported lines from the joint to the last row, as far as a whole pattern holds.

    Between two rows the rock that has to be supported runs straight from one line to the other.
    """
    joint_m = float(seen.round.joint_m)
    lines = [(float(row.chainage_m), row.line) for row in seen.all_rows[-len(seen.rows) - 1 :]]
    rows = [(max(at_m, joint_m), line) for at_m, line in lines]
    first = (joint_m, rows[0][1])
    left = [(at_m, line.left_s_m) for at_m, line in (first, *rows)]
    right = [(at_m, line.right_s_m) for at_m, line in (first, *rows)]
    area = shapely.buffer(Polygon([*left, *reversed(right)]), 0)
    whole = [(float(row.chainage_m), s_m) for row in seen.all_rows for s_m in row.demanded.s_m]
    return shapely.intersection(area, _around(seen, whole))


def _held_by_plates(seen: Seen) -> BaseGeometry:
    return _around(seen, _plates(seen))


def _plates(seen: Seen) -> list[tuple[float, float]]:
    bolts = (bolt for row in seen.all_rows for bolt in row.all_bolts if bolt.plated)
    return [(bolt.chainage_m, bolt.s_m) for bolt in bolts]


def _around(seen: Seen, plates: Sequence[tuple[float, float]]) -> BaseGeometry:
    """Give the rock between plates, and as far beyond the outermost as mesh still counts."""
    mesh = seen.support_class.mesh
    beyond_m = float(mesh.beyond_plates_at_most_mm) / 1000 if mesh else 0.0
    if not plates:
        return Polygon()
    hull = shapely.MultiPoint(list(plates)).convex_hull
    return hull.buffer(beyond_m, cap_style="square", join_style="mitre")


def _with_plates(seen: Seen, sheets: Iterable[Placed]) -> list[Placed]:
    """Leave out sheets on which no plate bears."""
    plates = shapely.MultiPoint(_plates(seen))
    widest_mm = max(bolt.plate_mm for bolt in seen.support_class.bolts)
    half_m = float(widest_mm) / 2000
    return [
        it
        for it in sheets
        if rectangle(it.box).buffer(half_m, join_style="mitre").intersects(plates)
    ]


def _wide(bare: BaseGeometry, wider_than_m: float) -> list[Polygon]:
    """Give the pieces in which something wider than that finds room."""
    parts = [it for it in shapely.get_parts(bare) if isinstance(it, Polygon)]
    return [
        it
        for it in parts
        if it.area > _NOTHING_M2
        and it.buffer(-wider_than_m / 2, join_style="mitre").area > _NOTHING_M2
    ]


def _strips(seen: Seen, sheet: Placed) -> Iterable[Polygon]:
    """Give what a sheet would cover no more, if an edge were off by its uncertainty."""
    for edge in EDGES:
        u_m = seen.doubts_m[sheet.methods[edge]]
        strip = _strip(sheet.box, edge, u_m)
        if strip.is_sound:
            yield rectangle(strip)


def _strip(box: Box, edge: Edge, u_m: Decimal) -> Box:
    if edge == "outbye":
        return replace(box, to_m=min(box.to_m, box.from_m + u_m))
    if edge == "inbye":
        return replace(box, from_m=max(box.from_m, box.to_m - u_m))
    if edge == "left":
        return replace(box, right_s_m=min(box.right_s_m, box.left_s_m + u_m))
    return replace(box, left_s_m=max(box.left_s_m, box.right_s_m - u_m))
