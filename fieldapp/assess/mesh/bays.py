"""The bays of mesh: each has plates all round it, and none within.

Between whole rows a bay is a spacing wide and a row spacing long. Where plates are missing, the
mesh round them is one bay: as wide as the plates beside them in their row stand apart, from the
row before to the row after, and neighbours that are both missing make one bay together.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import shapely

from fieldapp.assess.bolts_seen import Bolt
from fieldapp.assess.gaps.ground import along_the_rock
from fieldapp.assess.mesh.placed import Box, old_sheets, placed_sheets
from fieldapp.assess.neighbours import Position, RowOfPositions, groups_without_bolt
from fieldapp.assess.seen import Row, Seen
from fieldapp.assess.uncertainty import combined_uncertainty


@dataclass(frozen=True)
class Bay:
    """Mesh with plates at its edge and none within; it reaches from one row to another."""

    outbye: Row
    inbye: Row
    beside: Bolt
    """Whose place says where it is along the drive, and in which zone: the back before walls."""
    s_m: float
    """Its middle, from the crown [m]."""
    across_m: float
    along_m: float
    u_across_m: float
    u_along_m: float
    area_m2: float
    without: tuple[Bolt, ...] = ()
    """Positions within it that hold no mesh."""

    @property
    def u_m2(self) -> float:
        """Standard uncertainty of its area [m2]. Source: JCGM 100:2008, 5.1.2."""
        box_m2 = self.across_m * self.along_m
        filled = self.area_m2 / box_m2 if box_m2 else 1.0
        parts = [
            (filled * self.along_m, self.u_across_m),
            (filled * self.across_m, self.u_along_m),
        ]
        return combined_uncertainty(parts)


@dataclass(frozen=True)
class _MeshRow:
    """A row, where it is along the rock, and its positions that lie on mesh, from the left."""

    row: Row
    x_m: float
    positions: tuple[Bolt, ...]
    holds: tuple[bool, ...]
    plates: tuple[Bolt, ...]
    """All that hold mesh, those that stand for no position too, from the left."""

    @property
    def s_m(self) -> tuple[float, ...]:
        """Where its positions are, from the crown [m]."""
        return tuple(bolt.s_m for bolt in self.positions)


def bays(seen: Seen) -> Iterator[Bay]:
    """Give every bay from the last old row to the last row, and those round missing plates.

    Parameters
    ----------
    seen : Seen
        Rows, which plates hold, and the sheets where they were placed. [m]

    Returns
    -------
    iterator of Bay
        A plate that bears on no placed sheet holds no mesh; past the outermost that does, and
        past the last row, there is no bay. [m]

    Source
    ------
    Geometry along the rock. That mesh round a missing plate is one bay, as far as the plates
    all round it, and that of two rows' spacings the wider counts, is common practice, no source.
    """
    rows, own = tuple(_mesh_rows(seen)), {row.number for row in seen.rows}
    for outbye, inbye in pairwise(rows):
        if inbye.row.number in own:
            yield from _between(seen, outbye, inbye)
    held = [RowOfPositions(row.s_m, row.holds) for row in rows]
    for group in groups_without_bolt(held):
        bay = _round(seen, rows, group)
        if bay.area_m2:
            yield bay


def _mesh_rows(seen: Seen) -> Iterator[_MeshRow]:
    boxes = [it.box for it in placed_sheets(seen)]
    old = [it.box for it in old_sheets(seen)]
    for row, x_m in along_the_rock(seen):
        over = boxes if row.number > 0 or (boxes and old) else []
        on = [bolt for bolt in row.all_bolts if not over or _bears(seen, bolt, (*old, *over))]
        places = [bolt.s_m for bolt in on]
        there = [it for it in row.bolts.positions if on and min(places) <= it.s_m <= max(places)]
        if not there:
            continue
        positions = tuple(sorted(there, key=lambda bolt: bolt.s_m))
        plates = tuple(sorted((it for it in on if it.plated), key=lambda bolt: bolt.s_m))
        holds = tuple(any(bolt is it for it in plates) for bolt in positions)
        yield _MeshRow(row, x_m, positions, holds, plates)


def _bears(seen: Seen, bolt: Bolt, boxes: Sequence[Box]) -> bool:
    """Whether the plate of a bolt bears on a sheet."""
    half_m = float(max(it.plate_mm for it in seen.support_class.bolts)) / 2000
    at_m, s_m = float(bolt.chainage_m), bolt.s_m
    return any(
        float(box.from_m) - half_m <= at_m <= float(box.to_m) + half_m
        and float(box.left_s_m) - half_m <= s_m <= float(box.right_s_m) + half_m
        for box in boxes
    )


def _between(seen: Seen, outbye: _MeshRow, inbye: _MeshRow) -> Iterator[Bay]:
    """Yield the bays between two rows, by the spacings of either."""
    along_m = inbye.x_m - outbye.x_m
    u_along_m = _steps_u_m(seen, outbye.row, inbye.row)
    for row in (outbye, inbye):
        lacking = [s for s, holds in zip(row.s_m, row.holds, strict=True) if not holds]
        for left, right in pairwise(row.plates):
            if any(left.s_m < s_m < right.s_m for s_m in lacking):
                continue
            across_m, u_m = _apart(seen, row.row, left, right)
            yield Bay(
                outbye=outbye.row,
                inbye=inbye.row,
                beside=left,
                s_m=(left.s_m + right.s_m) / 2,
                across_m=across_m,
                along_m=along_m,
                u_across_m=u_m,
                u_along_m=u_along_m,
                area_m2=max(across_m * along_m, 0.0),
            )


def _round(seen: Seen, rows: Sequence[_MeshRow], group: Sequence[Position]) -> Bay:
    """Give the bay round a group of neighbouring positions that hold no mesh."""
    near_m = float(seen.support_class.pattern.bolt_spacing_m) / 4
    shape = shapely.union_all([_hole(rows, position, near_m) for position in group])
    from_x, left_m, to_x, right_m = shape.bounds
    touched = [row for row in rows if from_x <= row.x_m <= to_x]
    ends = [min(touched, key=lambda row: row.x_m), max(touched, key=lambda row: row.x_m)]
    outbye, inbye = (row.row for row in ends)
    without = tuple(rows[row].positions[position] for row, position in group)
    methods = [bolt.method for bolt in rows[group[0][0]].plates] or ["assumed"]
    u_m = max(float(seen.doubts_m[method]) for method in methods)
    return Bay(
        outbye=outbye,
        inbye=inbye,
        beside=next((it for it in without if it.zone == "back"), without[0]),
        s_m=(left_m + right_m) / 2,
        across_m=right_m - left_m,
        along_m=to_x - from_x,
        u_across_m=combined_uncertainty([(1.0, u_m), (1.0, u_m)]),
        u_along_m=_steps_u_m(seen, outbye, inbye),
        area_m2=float(shape.area),
        without=without,
    )


def _hole(rows: Sequence[_MeshRow], at: Position, near_m: float) -> shapely.Geometry:
    """Give the mesh round one position: as far as the plates beside it and the rows beside.

    In those rows each position that lies between the plates is a corner, and one that lies but a
    little outside them too: whatever is missing there makes the bay larger by itself.
    """
    index, number = at
    row = rows[index]
    s_m = row.s_m[number]
    left = max((it.s_m for it in row.plates if it.s_m < s_m), default=row.s_m[0])
    right = min((it.s_m for it in row.plates if it.s_m > s_m), default=row.s_m[-1])
    corners = [(row.x_m, left), (row.x_m, right)]
    for other in (*rows[max(0, index - 1) : index], *rows[index + 1 : index + 2]):
        inside = [it for it in other.s_m if left - near_m <= it <= right + near_m]
        inside = inside or [min(other.s_m, key=lambda it: abs(it - s_m))]
        corners += [(other.x_m, min(inside)), (other.x_m, max(inside))]
    return shapely.MultiPoint(corners).convex_hull


def _apart(seen: Seen, row: Row, left: Bolt, right: Bolt) -> tuple[float, float]:
    """Give a spacing as it was taped, else between the places of both bolts; and its doubt."""
    for one in row.taped:
        ends = sorted((one.from_position, one.to_position))
        if ends == [left.position, right.position] and not one.reading.straight:
            doubt_m = seen.doubt_m(one.reading.method, one.reading.doubt_m)
            return float(one.reading.value_m), float(doubt_m)
    both = [(1.0, float(seen.doubts_m[bolt.method])) for bolt in (left, right)]
    return right.s_m - left.s_m, combined_uncertainty(both)


def _steps_u_m(seen: Seen, outbye: Row, inbye: Row) -> float:
    methods = [
        "assumed" if row.ahead is None else row.ahead.method
        for row in seen.rows
        if outbye.number < row.number <= inbye.number
    ]
    return combined_uncertainty([(1.0, float(seen.doubts_m[method])) for method in methods])
