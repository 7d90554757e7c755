"""What a report says of the work of a round: times and pace, take-off against what was used.

By crew and method, never by name.
"""

from collections.abc import Iterator
from decimal import Decimal
from typing import Final

from fieldapp.assess.take_off import (
    Kind,
    compared,
    cost_of_round,
    meshed_m2,
    minutes_of,
    take_off_of_round,
)
from fieldapp.work.reporting.told import MaterialTold, WorkTold
from schemas.bodies.round import Round
from schemas.numbers import STEP_M2, STEP_MONEY, rounded
from schemas.standard import Standard

_MINUTES_AN_HOUR: Final = 60


def materials_told(seen: Round, standard: Standard) -> Iterator[MaterialTold]:
    """Tell what a round takes by its standard, and what somebody counted that went in."""
    found, work = take_off_of_round(standard, seen), seen.work
    if found is None:
        return
    used = compared(found, work.used) if work else ()
    for it in used:
        yield _material(it.kind, it.of, it.by_standard, it.used)
    counted = {(it.kind, it.of) for it in used}
    for item in found.items:
        if not {(item.kind, item.of), (item.kind, "")} & counted:
            yield _material(item.kind, item.of, item.per_round, None)


def _material(thing: Kind, of: str, by_standard: Decimal, used: Decimal | None) -> MaterialTold:
    return MaterialTold(
        thing=thing,
        of=of,
        unit="m²" if thing == "mesh" else "each",
        by_standard=rounded(by_standard, STEP_M2),
        used=used,
        difference=None if used is None else used - rounded(by_standard, STEP_M2),
    )


def work_told(seen: Round, standard: Standard) -> WorkTold | None:
    """Tell how a round was done, and what it cost; None where nothing of it is stated."""
    work, prices = seen.work, standard.prices
    demanded = standard.support_class(seen.support_class)
    found = take_off_of_round(standard, seen)
    if work is None or demanded is None or found is None:
        return None
    minutes, mesh = minutes_of(work), meshed_m2(demanded.mesh, work.used)
    cost = cost_of_round(demanded, found, work, prices) if prices else None
    per_h = None if minutes is None or mesh is None else mesh * _MINUTES_AN_HOUR / minutes
    delays = work.delays or ()
    return WorkTold(
        crew=seen.bolter.crew,
        method=work.method,
        crew_size=work.crew_size,
        started_at=work.started_at,
        finished_at=work.finished_at,
        took_min=minutes,
        held_up_min=None if work.delays is None else sum(it.minutes for it in delays),
        held_up_by="; ".join(it.cause for it in delays),
        meshed_m2=mesh,
        meshed_per_hour_m2=None if per_h is None else rounded(per_h, STEP_M2),
        cost=cost,
        cost_per_metre=None
        if cost is None
        else rounded(cost / found.wanted.advance_m, STEP_MONEY),
        currency=prices.currency if prices else None,
        beyond_last_row=work.beyond_last_row,
        beyond_reason=work.beyond_reason,
    )
