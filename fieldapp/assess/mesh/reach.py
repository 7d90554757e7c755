"""How far placed sheets reach: to the face, and down both walls."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from itertools import pairwise

from fieldapp.assess.mesh.placed import Edge, Placed, old_sheets, placed_sheets
from fieldapp.assess.readings import face_readings
from fieldapp.assess.seen import Row, Seen
from fieldapp.assess.uncertainty import combined_uncertainty
from schemas.bodies.round import Method


@dataclass(frozen=True)
class Reach:
    """One reach of the mesh, from an edge that was read."""

    value_m: Decimal
    u_m: Decimal
    edge_m: Decimal
    """Where the edge is that governs: a chainage, or a distance from the crown."""
    method: Method


def held_edge(seen: Seen) -> tuple[Decimal, Placed] | None:
    """Find where the mesh ends toward the face, at the place where it ends first.

    Parameters
    ----------
    seen : Seen
        Sheets and rows. [m]

    Returns
    -------
    (chainage, Placed) or None
        The edge, no farther beyond the last row than mesh counts there, and its sheet; None where
        no sheet was placed, or some of the supported line has none. [m]

    Source
    ------
    Common practice, no source: mesh far beyond its outermost plates does not count.
    """
    sheets, mesh = placed_sheets(seen), seen.support_class.mesh
    if not sheets or mesh is None:
        return None
    line = seen.all_rows[-1].line
    inner = [it for sheet in sheets for it in (sheet.box.left_s_m, sheet.box.right_s_m)]
    first = _first(sheets, inner, (line.left_s_m, line.right_s_m), _across, _inbye)
    if first is None:
        return None
    counts_to_m = _last_plated_m(seen) + mesh.beyond_plates_at_most_mm / 1000
    return min(first.box.to_m, counts_to_m), first


def reach_to_face(seen: Seen) -> Reach | None:
    """Work out from the sheets how far the mesh ends from the face.

    Parameters
    ----------
    seen : Seen
        Sheets, and what was read from the last row to the face. [m]

    Returns
    -------
    Reach or None
        None where the edge is only assumed, or the face was not read. [m]

    Source
    ------
    Common practice, no source; JCGM 100:2008, 5.1.2.
    """
    edge, read = held_edge(seen), face_readings(seen.round).values()
    if edge is None or not read or edge[1].methods["inbye"] == "assumed":
        return None
    face = max(read, key=lambda one: one.value_m)
    last_m = seen.all_rows[-1].chainage_m
    method = edge[1].methods["inbye"]
    parts = [(1.0, float(seen.doubts_m[it])) for it in (face.method, method)]
    u_m = Decimal(repr(combined_uncertainty(parts)))
    return Reach(max(Decimal(0), last_m + face.value_m - edge[0]), u_m, edge[0], method)


def reach_above_floor(seen: Seen) -> Reach | None:
    """Work out from the sheets how high above the floor the mesh ends, on the worse wall.

    Parameters
    ----------
    seen : Seen
        Sheets, and rows with their profiles. [m]

    Returns
    -------
    Reach or None
        None where the edge is only assumed, or some of the round has no sheet. [m]

    Source
    ------
    Common practice, no source.
    """
    sheets = (*old_sheets(seen), *placed_sheets(seen))
    if not placed_sheets(seen):
        return None
    inner = [it for sheet in sheets for it in (sheet.box.from_m, sheet.box.to_m)]
    ends = (float(seen.round.joint_m), float(seen.all_rows[-1].chainage_m))
    found = [_highest(seen, sheets, inner, ends, reach) for reach in (_leftmost, _rightmost)]
    if any(it is None or it.method == "assumed" for it in found):
        return None
    return max((it for it in found if it is not None), key=lambda it: it.value_m)


def _highest(
    seen: Seen,
    sheets: Sequence[Placed],
    inner: Sequence[Decimal],
    ends: tuple[float, float],
    reach: Callable[[Placed], Decimal],
) -> Reach | None:
    """Find where the mesh of one wall ends highest; None where some of it has none."""
    found = []
    for a, b, sheet in _farthest(sheets, inner, ends, _along, reach):
        if sheet is None:
            return None
        side: Edge = "left" if reach is _leftmost else "right"
        edge_m = sheet.box.left_s_m if side == "left" else sheet.box.right_s_m
        for profile in dict.fromkeys(row.profile for row in _rows_beside(seen, a, b)):
            lowest, highest = profile.floor_s_m
            height_m = Decimal(repr(profile.at(min(max(float(edge_m), lowest), highest))[1]))
            method = sheet.methods[side]
            found.append(Reach(height_m, seen.doubts_m[method], edge_m, method))
    return max(found, key=lambda it: it.value_m, default=None)


def _rows_beside(seen: Seen, from_m: Decimal, to_m: Decimal) -> Sequence[Row]:
    """Give the rows of a length of the drive, and the next ones outbye and inbye of it."""
    before = [row for row in seen.all_rows if row.chainage_m <= from_m][-1:]
    there = [row for row in seen.all_rows if from_m < row.chainage_m < to_m]
    after = [row for row in seen.all_rows if row.chainage_m >= to_m][:1]
    return (*before, *there, *after)


def _last_plated_m(seen: Seen) -> Decimal:
    plated = [row for row in seen.all_rows if any(bolt.plated for bolt in row.all_bolts)]
    return plated[-1].chainage_m if plated else seen.round.joint_m


def _first(
    sheets: Sequence[Placed],
    inner: Sequence[Decimal],
    ends: tuple[float, float],
    over: Callable[[Placed], tuple[Decimal, Decimal]],
    reach: Callable[[Placed], Decimal],
) -> Placed | None:
    """Find the sheet that reaches farthest where the mesh reaches least; None where there is none.

    `ends` are those of the line that is looked along, `inner` where sheets begin or end on it.
    """
    farthest = [it for _, _, it in _farthest(sheets, inner, ends, over, reach)]
    there = [it for it in farthest if it is not None]
    return None if len(there) < len(farthest) else min(there, key=reach, default=None)


def _farthest(
    sheets: Sequence[Placed],
    inner: Sequence[Decimal],
    ends: tuple[float, float],
    over: Callable[[Placed], tuple[Decimal, Decimal]],
    reach: Callable[[Placed], Decimal],
) -> Iterator[tuple[Decimal, Decimal, Placed | None]]:
    """Yield each part of a line with the sheet that reaches farthest there, or none."""
    start, end = (Decimal(repr(float(it))) for it in ends)
    cuts = sorted({start, end, *(it for it in inner if start < it < end)})
    for a, b in pairwise(cuts):
        there = [it for it in sheets if over(it)[0] <= a and b <= over(it)[1]]
        yield a, b, max(there, key=reach, default=None)


def _across(sheet: Placed) -> tuple[Decimal, Decimal]:
    return sheet.box.left_s_m, sheet.box.right_s_m


def _along(sheet: Placed) -> tuple[Decimal, Decimal]:
    return sheet.box.from_m, sheet.box.to_m


def _inbye(sheet: Placed) -> Decimal:
    return sheet.box.to_m


def _leftmost(sheet: Placed) -> Decimal:
    return -sheet.box.left_s_m


def _rightmost(sheet: Placed) -> Decimal:
    return sheet.box.right_s_m
