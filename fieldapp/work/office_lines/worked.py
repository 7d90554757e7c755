"""The work of a round as a line for reports: stated figures beside its take-off."""

from collections.abc import Iterator
from decimal import Decimal

from fieldapp.assess.take_off import (
    Kind,
    TakeOff,
    cost_of_round,
    meshed_m2,
    minutes_of,
    take_off_of_round,
)
from fieldapp.store.office.lines import WorkLine
from fieldapp.work.office_lines.utc import utc_text
from schemas.bodies.work_seen import WorkSeen
from schemas.bundle import Bundle
from schemas.numbers import STEP_MONEY, rounded
from schemas.standard import SupportClass


def work_lines(revision: str, bundle: Bundle) -> Iterator[WorkLine]:
    """Yield the line of a round whose work is stated, by the standard that it was shown."""
    work, seen = bundle.round.work, bundle.round
    demanded = bundle.standard.support_class(seen.support_class)
    found = take_off_of_round(bundle.standard, seen) if work else None
    if work is None or demanded is None or found is None:
        return
    used = work.used
    cost = _cost(bundle, demanded, found, work)
    meshed = meshed_m2(demanded.mesh, used)
    yield WorkLine(
        round_revision=revision,
        crew=seen.bolter.crew,
        method=work.method,
        crew_size=work.crew_size,
        started_at=utc_text(work.started_at) if work.started_at else None,
        finished_at=utc_text(work.finished_at) if work.finished_at else None,
        minutes=minutes_of(work),
        delay_minutes=None if work.delays is None else sum(it.minutes for it in work.delays),
        delays=None if work.delays is None else "; ".join(it.cause for it in work.delays),
        bolts_used=sum(it.bolts for it in used.bolts) if used.bolts else None,
        bolts_by_standard=_count(found, "bolts"),
        plates_used=used.plates,
        mesh_pieces_used=used.mesh_pieces,
        mesh_pieces_by_standard=_count(found, "sheets") + _count(found, "strips"),
        meshed_m2=None if meshed is None else float(meshed),
        capsules_used=used.capsules,
        capsules_by_standard=_count(found, "capsules"),
        cost=None if cost is None else float(cost),
        cost_per_m=None if cost is None else _per_metre(cost, found),
        currency=bundle.standard.prices.currency if bundle.standard.prices else None,
        beyond_last_row=work.beyond_last_row,
        beyond_reason=work.beyond_reason,
    )


def _cost(
    bundle: Bundle, demanded: SupportClass, found: TakeOff, work: WorkSeen
) -> Decimal | None:
    prices = bundle.standard.prices
    return cost_of_round(demanded, found, work, prices) if prices else None


def _per_metre(cost: Decimal, found: TakeOff) -> float:
    return float(rounded(cost / found.wanted.advance_m, STEP_MONEY))


def _count(found: TakeOff, kind: Kind) -> int:
    return int(sum(it.per_round for it in found.items if it.kind == kind))
