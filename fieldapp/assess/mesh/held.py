"""Whether a plate bears on both sheets along a whole lap, worked out from plates as seen."""

from decimal import Decimal
from itertools import pairwise
from typing import Final

from fieldapp.assess.mesh.lapped import Lap
from fieldapp.assess.seen import Row, Seen
from fieldapp.assess.uncertainty import combined_uncertainty

INSIDE_M: Final = Decimal("0.1")
"""A bolt holds a lap when it is this far inside both edges: common practice, no source."""
_COVERAGE: Final = 2
"""Twice the standard uncertainty holds the truth in 95 of 100 cases (JCGM 100:2008, G.6.6)."""


def plated_along(seen: Seen, lap: Lap) -> bool | None:
    """Work out from the rows whether a lap across the drive is held.

    Parameters
    ----------
    seen : Seen
        Rows and plates. [m]
    lap : Lap
        The lap. [m]

    Returns
    -------
    bool or None
        True where a row lies at least 100 mm inside both edges, its plates no farther apart than
        the pattern allows; False where no row can meet it; None where places are not known well
        enough, or the lap runs along the drive: then somebody has to look. [-]

    Source
    ------
    Common practice, no source; uncertainties as in JCGM 100:2008.
    """
    if not lap.across or lap.width_m is None:
        return None
    if lap.width_m == 0:
        return False
    if not lap.edges_read:
        return None
    rows = [row for row in seen.all_rows if _is_placed(row, seen)]
    if any(_inside_m(row, lap) >= INSIDE_M + _guard_m(seen, row, lap) for row in rows):
        inside = (r for r in rows if _inside_m(r, lap) >= INSIDE_M + _guard_m(seen, r, lap))
        return any(_is_whole(seen, row, lap) for row in inside) or None
    if len(rows) < len(seen.all_rows):
        return None
    half_m = max(bolt.plate_mm for bolt in seen.support_class.bolts) / 2000
    missed = (_inside_m(row, lap) < -half_m - _guard_m(seen, row, lap) for row in rows)
    return False if all(missed) else None


def _is_placed(row: Row, seen: Seen) -> bool:
    """Whether its chainage is known: each row before it was read from the one before that."""
    return all(it.ahead is not None for it in seen.rows if it.number <= row.number)


def _inside_m(row: Row, lap: Lap) -> Decimal:
    """Give how far a row lies inside the nearer edge of a lap; negative where it is beside it."""
    return min(row.chainage_m - lap.box.from_m, lap.box.to_m - row.chainage_m)


def _guard_m(seen: Seen, row: Row, lap: Lap) -> Decimal:
    steps = [it.ahead.method for it in seen.rows if it.ahead and it.number <= row.number]
    parts = [(1.0, float(seen.doubts_m[method])) for method in steps]
    return _COVERAGE * Decimal(repr(combined_uncertainty([*parts, (1.0, float(lap.u_m))])))


def _is_whole(seen: Seen, row: Row, lap: Lap) -> bool:
    """Whether the plates of a row leave no more room along a lap than the pattern allows."""
    if not row.is_known or not (row.taped or all(b.method != "assumed" for b in row.all_bolts)):
        return False
    pattern = seen.support_class.pattern
    most_m = float(pattern.bolt_spacing_m + pattern.bolt_spacing_tolerance_m)
    left = max(float(lap.box.left_s_m), row.line.left_s_m)
    right = min(float(lap.box.right_s_m), row.line.right_s_m)
    plates = sorted(bolt.s_m for bolt in row.all_bolts if bolt.plated and bolt.looked_at)
    if not plates:
        return False
    apart = all(b - a <= most_m for a, b in pairwise(plates) if b > left and a < right)
    ends = (plates[0] - left, right - plates[-1])
    return apart and max(ends) <= most_m / 2
