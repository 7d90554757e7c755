"""Where a chainage that was read once lies today, after chainages were measured anew."""

from collections.abc import Sequence
from datetime import datetime
from decimal import Decimal
from itertools import groupby

from schemas.bodies.heading import Rechained


def today_m(
    read_m: Decimal,
    read_at: datetime,
    rechained: Sequence[Rechained],
    *,
    ends_there: bool = False,
) -> Decimal:
    """Give today's chainage of what was read at a time.

    Parameters
    ----------
    read_m : Decimal
        As it was read. [m]
    read_at : datetime
        When. [UTC]
    rechained : sequence of Rechained
        Of the heading, in any order. [m]
    ends_there : bool
        True for the inbye end of a stretch of ground: it belongs to what lies outbye of it, and
        stays where shifting begins just there. [-]

    Returns
    -------
    Decimal
        Shifted by each that came later and began there or outbye; as it was read where none
        did. Never before the origin. [m]

    Source
    ------
    Common practice, no source.
    """
    later = sorted((it for it in rechained if it.at > read_at), key=lambda it: it.at)
    for _, at_once in groupby(later, key=lambda it: it.at):
        shifts = [
            it.by_m
            for it in at_once
            if read_m > it.from_m or (read_m == it.from_m and not ends_there)
        ]
        read_m += sum(shifts, Decimal(0))
    return max(read_m, Decimal(0))
