"""How high above the floor the lowest bolts are."""

from decimal import Decimal

from fieldapp.assess.judge import Check, Reading, measured
from fieldapp.assess.rows_judged import not_known
from fieldapp.assess.seen import Row, Seen
from schemas.findings import Finding, Place
from schemas.limits import AtMostMetres
from schemas.numbers import STEP_M


def lowest_bolt(seen: Seen, demanded: AtMostMetres) -> tuple[Finding, ...]:
    """Judge them on both walls: the highest of the lowest governs.

    Parameters
    ----------
    seen : Seen
        Bolts that count. [m]
    demanded : AtMostMetres
        The bound. [m]

    Returns
    -------
    tuple of Finding
        The highest; an offset row is given the half spacing that its pattern sets it higher. [m]

    Source
    ------
    Common practice, no source.
    """
    readings: list[Reading] = []
    unseen: list[Place] = []
    for row in seen.rows:
        unseen += not_known(row)
        readings += [_reading(seen, row, side) for side in (-1, 1)]
    check = Check("lowest_bolt", "above the floor, both walls", _basis(seen))
    return measured(check, demanded, readings, unseen, STEP_M)


def _reading(seen: Seen, row: Row, side: int) -> Reading:
    held = [bolt for bolt in row.all_bolts if bolt.counts]
    lowest = max(held, key=lambda bolt: side * bolt.s_m, default=None)
    places = row.demanded.s_m
    half = (
        abs(places[-1] - places[0]) / (2 * max(1, len(places) - 1)) if row.demanded.offset else 0
    )
    s_m = 0.0 if lowest is None else lowest.s_m
    left, right = row.profile.floor_s_m
    at = min(max(s_m + side * half, left), right)
    corner = row.bolts.positions[0 if side < 0 else -1]
    return Reading(
        value=Decimal(repr(row.profile.at(at)[1])),
        u=seen.doubts_m["assumed" if lowest is None else lowest.method],
        place=lambda: corner.place if lowest is None else lowest.place,
        again=lowest is not None and lowest.method != "assumed",
        fix=lambda: f"add a bolt lower on the {'left' if side < 0 else 'right'} wall, {row.name}",
        zone=corner.zone,
        supposed=not row.is_known,
    )


def _basis(seen: Seen) -> str:
    ends = [bolt for row in seen.rows for bolt in row.bolts.positions[:: len(row.demanded.s_m)]]
    assumed = any(bolt.method == "assumed" for bolt in ends)
    return "positions assumed" if assumed else "positions measured"
