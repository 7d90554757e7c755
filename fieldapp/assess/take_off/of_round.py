"""What a recorded round took by the standard; of two ground domains, each part by its class."""

from collections.abc import Sequence
from decimal import Decimal

from fieldapp.assess.demanded import rows_demanded
from fieldapp.assess.readings import last_row_m
from fieldapp.assess.take_off.whole import (
    Item,
    TakeOff,
    Wanted,
    least_lap_mm,
    take_off,
    wanted_by_round,
)
from schemas.bodies.round import Round
from schemas.standard import Standard, SupportClass

_STEP = Decimal("0.001")


def take_off_of_round(standard: Standard, seen: Round) -> TakeOff | None:
    """Say what a recorded round took by its class, or each of its parts by its own.

    Parameters
    ----------
    standard : Standard
        The standard that it was shown. [various]
    seen : Round
        The round. [various]

    Returns
    -------
    TakeOff or None
        Of two ground domains the sum, with its `parts`; None where the standard has not every
        class of it. [various]

    Raises
    ------
    LapLargerThanSheet
        The lap leaves no mesh to advance by.

    Source
    ------
    Common practice, no source: a row is put up by the class of the ground that it stands in.
    """
    first, second = standard.support_class(seen.support_class), seen.second_domain
    past = standard.support_class(second.support_class) if second else None
    if first is None or (second and past is None):
        return None
    if second is None or past is None:
        return take_off(first, wanted_by_round(first, seen))
    wanted = wanted_by_round(first, seen)
    outbye = _rows_outbye(first, second.from_m, seen)
    if outbye == wanted.rows:
        return take_off(first, wanted)
    if not outbye:
        return take_off(past, wanted_by_round(past, seen))
    before_m = second.from_m - seen.joint_m
    parts = (
        take_off(first, _part(first, seen, (0, outbye), before_m)),
        take_off(
            past, _part(past, seen, (outbye, wanted.rows), _end_m(seen, wanted) - second.from_m)
        ),
    )
    return _sum(parts, wanted, seen)


def _rows_outbye(first: SupportClass, from_m: Decimal, seen: Round) -> int:
    """Count the rows that stand outbye of the split, as `seen.seen_in` places them."""
    at_m, outbye = seen.joint_m, 0
    ahead = {row.number: row.ahead_of_row_before for row in seen.rows}
    rows = max([seen.rows_planned, *ahead])
    for number in range(1, rows + 1):
        read = ahead.get(number)
        at_m += first.pattern.row_spacing_m if read is None else read.value_m
        if at_m > from_m:
            break
        outbye = number
    return outbye


def _end_m(seen: Round, wanted: Wanted) -> Decimal:
    read_m = last_row_m(seen)
    return read_m if read_m > seen.joint_m else seen.joint_m + wanted.advance_m


def _part(
    support_class: SupportClass, seen: Round, rows: tuple[int, int], advance_m: Decimal
) -> Wanted:
    before, to = rows
    laid_out = rows_demanded(support_class, seen)
    old = bool(seen.old_rows and seen.old_rows[-1].staggered)
    return Wanted(
        advance_m=max(advance_m, _STEP),
        lap_mm=least_lap_mm(support_class),
        profiles=tuple(seen.profile_at(number) for number in range(before + 1, to + 1)),
        after_offset_row=laid_out[before - 1].offset if before else old,
    )


def _sum(parts: Sequence[TakeOff], wanted: Wanted, seen: Round) -> TakeOff:
    much: dict[tuple[str, str], Decimal] = {}
    named = {(it.kind, it.of): it for part in parts for it in part.items}
    for part in parts:
        for it in part.items:
            much[it.kind, it.of] = much.get((it.kind, it.of), Decimal(0)) + it.per_round
    items = tuple(
        Item(it.kind, it.of, much[key], (much[key] / wanted.advance_m).quantize(_STEP))
        for key, it in named.items()
    )
    return TakeOff(
        support_class=seen.class_said,
        wanted=wanted,
        line_m=max(part.line_m for part in parts),
        items=items,
        mesh=None,
        resin=tuple(dict.fromkeys(it for part in parts for it in part.resin)),
        parts=tuple(parts),
    )
