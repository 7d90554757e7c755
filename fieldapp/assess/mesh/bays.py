"""The bays between the plates of neighbouring rows, and the broken rock that one may hold."""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from itertools import pairwise
from typing import Final

from fieldapp.assess.bolts_seen import Bolt
from fieldapp.assess.seen import Row, Seen
from fieldapp.assess.uncertainty import combined_uncertainty

G_KN_PER_T: Final = Decimal("9.81")


@dataclass(frozen=True)
class Bay:
    """The rock between two plates of a row and the next row that has plates."""

    outbye: Row
    inbye: Row
    left: Bolt
    right: Bolt
    across_m: float
    along_m: float
    u_across_m: float
    u_along_m: float

    @property
    def area_m2(self) -> float:
        """Spacing times row spacing, as they are [m2]."""
        return self.across_m * self.along_m


def bays(seen: Seen) -> Iterator[Bay]:
    """Give every bay from the last old row to the last row.

    Parameters
    ----------
    seen : Seen
        Rows, and which plates hold mesh. [m]

    Returns
    -------
    iterator of Bay
        By the wider of the two rows' spacings where plates are missing; a row without any plate
        makes the bays beside it one. [m]

    Source
    ------
    Geometry; that the wider spacing counts is common practice, no source.
    """
    first = seen.old_rows[-1:]
    held = [(row, _spacings(seen, row)) for row in (*first, *seen.rows)]
    some = [(row, spacings) for row, spacings in held if spacings]
    for (outbye, before), (inbye, after) in pairwise(some):
        along_m = float(inbye.chainage_m - outbye.chainage_m)
        u_along_m = _steps_u_m(seen, outbye, inbye)
        for left, right, across_m, u_m in (*before, *after):
            yield Bay(outbye, inbye, left, right, across_m, along_m, u_m, u_along_m)


def bay_load_kn(area_m2: Decimal, loosened_m: Decimal, rock_kn_per_m3: Decimal) -> Decimal:
    """Give the weight of the broken rock that one bay may have to hold.

    Parameters
    ----------
    area_m2 : Decimal
        The bay. [m2]
    loosened_m : Decimal
        Thickness of the broken rock. [m]
    rock_kn_per_m3 : Decimal
        Its unit weight. [kN/m3]

    Returns
    -------
    Decimal
        Weight, spread over the bay. [kN]

    Source
    ------
    Weight is unit weight times volume.
    """
    return area_m2 * loosened_m * rock_kn_per_m3


def _spacings(seen: Seen, row: Row) -> list[tuple[Bolt, Bolt, float, float]]:
    """Give each two plates beside one another in a row, how far apart, and its doubt [m]."""
    plates = sorted((bolt for bolt in row.all_bolts if bolt.plated), key=lambda bolt: bolt.s_m)
    return [(left, right, *_apart(seen, row, left, right)) for left, right in pairwise(plates)]


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
