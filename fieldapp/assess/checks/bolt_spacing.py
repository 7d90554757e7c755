"""Bolt spacing within the row, along the rock."""

from decimal import Decimal
from itertools import pairwise

from fieldapp.assess.bolts_seen import Bolt
from fieldapp.assess.judge import Check, Reading, measured
from fieldapp.assess.profile.profile import ProfileRefused
from fieldapp.assess.seen import Row, Seen
from fieldapp.assess.uncertainty import combined_uncertainty
from fieldapp.assess.words import row_place
from schemas.bodies.round import SpacingSeen
from schemas.findings import Finding, Place
from schemas.limits import AtMostMetres
from schemas.numbers import STEP_M, rounded, text


def bolt_spacing(seen: Seen, demanded: AtMostMetres) -> tuple[Finding, ...]:
    """Judge it: at least one spacing a row is a reading, and the widest governs.

    Parameters
    ----------
    seen : Seen
        Spacings taped, and bolts whose place was measured. [m]
    demanded : AtMostMetres
        The bound. [m]

    Returns
    -------
    tuple of Finding
        The widest spacing; a straight tape is turned into distance along the rock, and its
        reading stands with the place. [m]

    Source
    ------
    Common practice, no source.
    """
    readings: list[Reading] = []
    unseen: list[Place] = []
    for row in seen.rows:
        taped = [_taped(seen, row, one) for one in row.taped]
        placed = list(_placed(seen, row))
        readings += [*taped, *placed]
        if not taped and not placed:
            unseen.append(row_place(row.number, words=f"a spacing of {row.name}"))
    check = Check("bolt_spacing", "collar to collar along the rock", "taped or measured")
    return measured(check, demanded, readings, unseen, STEP_M)


def _taped(seen: Seen, row: Row, spacing: SpacingSeen) -> Reading:
    bolts = row.bolts.positions
    first = min(spacing.from_position, spacing.to_position, len(bolts))
    left = bolts[first - 1]
    value, as_taped = spacing.reading.value_m, ""
    if spacing.reading.straight:
        as_taped = f", {text(rounded(value, STEP_M))} m taped straight"
        value = _along_m(row, left, value)
    steps = abs(spacing.to_position - spacing.from_position)
    return Reading(
        value=value / steps,
        u=seen.doubt_m(spacing.reading.method, spacing.reading.doubt_m) / steps,
        place=lambda: _between(row, left, spacing.to_position, as_taped),
        again=spacing.reading.again,
        fix=lambda: f"add a bolt between bolts {first} and {first + steps} of {row.name}",
        zone=left.zone,
    )


def _placed(seen: Seen, row: Row) -> list[Reading]:
    """Take the spacing of neighbours whose places were both measured."""
    there = sorted((b for b in row.all_bolts if b.is_there), key=lambda bolt: bolt.s_m)
    return [
        _apart(seen, row, left, right)
        for left, right in pairwise(there)
        if "assumed" not in (left.method, right.method) and _are_neighbours(left, right)
    ]


def _apart(seen: Seen, row: Row, left: Bolt, right: Bolt) -> Reading:
    return Reading(
        value=Decimal(repr(right.s_m)) - Decimal(repr(left.s_m)),
        u=_doubt_m(seen, left, right),
        place=lambda: _between(row, left, right.position),
        again=True,
        fix=lambda: f"add a bolt right of {left.place.words}",
        zone=left.zone,
    )


def _are_neighbours(left: Bolt, right: Bolt) -> bool:
    """Leave a missing position between them to the checks that see it."""
    if left.position is None or right.position is None:
        return True
    return abs(right.position - left.position) == 1


def _along_m(row: Row, left: Bolt, straight_m: Decimal) -> Decimal:
    try:
        along = row.profile.chord_to_arc_m(left.s_m, float(straight_m))
    except ProfileRefused:  # taped past the foot of the wall: straight is all there is
        return straight_m
    return Decimal(repr(along))


def _doubt_m(seen: Seen, left: Bolt, right: Bolt) -> Decimal:
    both = [(1.0, float(seen.doubts_m[bolt.method])) for bolt in (left, right)]
    return Decimal(repr(combined_uncertainty(both)))


def _between(row: Row, left: Bolt, to_position: int | None, as_taped: str = "") -> Place:
    words = f"{row.name}, bolt {left.position} to {to_position or 'the next'}{as_taped}"
    return left.place.model_copy(update={"words": words})
