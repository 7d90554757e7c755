"""Bolts seen against positions demanded: which bolt stands for which position."""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

Points = NDArray[np.float64]
Place = tuple[float, float]


class Standing(StrEnum):
    """How a demanded position stands."""

    PRESENT = "present"
    OFF_POSITION = "off position"
    REPLACED_BESIDE = "replaced beside"
    MISSING = "missing"


@dataclass(frozen=True)
class Matched:
    """One demanded position: the bolt that stands for it and how far off it is [m]."""

    demanded: int
    seen: int | None
    off_m: float | None
    standing: Standing


@dataclass(frozen=True)
class Matching:
    """Every demanded position, in order, and the bolts that stand for none."""

    positions: tuple[Matched, ...]
    extra: tuple[int, ...]

    @property
    def missing(self) -> tuple[int, ...]:
        """The demanded positions that no bolt stands for."""
        return tuple(one.demanded for one in self.positions if one.seen is None)


def assigned(cost: Points, cut_off: float) -> tuple[tuple[int, int], ...]:
    """Pair rows with columns: as many pairs within the cut-off as can be, at the least cost.

    Parameters
    ----------
    cost : array of shape (n, m)
        What a pair costs, not negative. [any]
    cut_off : float
        A pair that costs more is no pair. [any]

    Returns
    -------
    tuple of (row, column)
        In order of the rows. [-]

    Source
    ------
    Rectangular linear assignment: SciPy, `scipy.optimize.linear_sum_assignment`. What lies
    beyond the cut-off costs more than all pairs within it together, so it never displaces one.
    """
    if cost.size == 0:
        return ()
    from scipy.optimize import linear_sum_assignment

    beyond = cut_off * (min(cost.shape) + 1) + 1.0
    rows, columns = linear_sum_assignment(np.where(cost <= cut_off, cost, beyond))
    pairs = zip(rows.tolist(), columns.tolist(), strict=True)
    return tuple((row, column) for row, column in pairs if cost[row, column] <= cut_off)


def matched(
    seen_m: Sequence[Place],
    demanded_m: Sequence[Place],
    cut_off_m: float,
    tolerance_m: float,
    abandoned_m: Sequence[Place] = (),
) -> Matching:
    """Say for every demanded position which bolt stands for it.

    Off position alone is information; spacing and gap judge. A bolt put in beside a hole
    that was given up is one bolt, and the hole is none.

    Parameters
    ----------
    seen_m : sequence of (chainage, s)
        Collars of the bolts that were seen. [m]
    demanded_m : sequence of (chainage, s)
        Demanded positions. [m]
    cut_off_m : float
        A bolt farther away stands for no position. [m]
    tolerance_m : float
        A bolt farther away is off position. [m]
    abandoned_m : sequence of (chainage, s)
        Holes given up. [m]

    Returns
    -------
    Matching
        Positions in the order demanded, and the extra bolts. [m]

    Source
    ------
    Common practice, no source; assignment as in `assigned`.
    """
    off = _distances(seen_m, demanded_m)
    by_position = {column: row for row, column in assigned(off, cut_off_m)}
    given_up = _nearest_positions(abandoned_m, demanded_m, cut_off_m)
    positions = []
    for demanded in range(len(demanded_m)):
        seen = by_position.get(demanded)
        off_m = None if seen is None else float(off[seen, demanded])
        standing = _standing(off_m, tolerance_m, given_up=demanded in given_up)
        positions.append(Matched(demanded, seen, off_m, standing))
    taken = set(by_position.values())
    return Matching(tuple(positions), tuple(n for n in range(len(seen_m)) if n not in taken))


def _standing(off_m: float | None, tolerance_m: float, *, given_up: bool) -> Standing:
    if off_m is None:
        return Standing.MISSING
    if given_up:
        return Standing.REPLACED_BESIDE
    return Standing.OFF_POSITION if off_m > tolerance_m else Standing.PRESENT


def _nearest_positions(
    holes_m: Sequence[Place], demanded_m: Sequence[Place], cut_off_m: float
) -> frozenset[int]:
    if not holes_m or not demanded_m:
        return frozenset()
    off = _distances(holes_m, demanded_m)
    nearest = off.argmin(axis=1)
    return frozenset(
        int(position) for hole, position in enumerate(nearest) if off[hole, position] <= cut_off_m
    )


def _distances(a_m: Sequence[Place], b_m: Sequence[Place]) -> Points:
    a = np.asarray(a_m, dtype=np.float64).reshape(-1, 1, 2)
    b = np.asarray(b_m, dtype=np.float64).reshape(1, -1, 2)
    return np.asarray(np.hypot(a[..., 0] - b[..., 0], a[..., 1] - b[..., 1]))
