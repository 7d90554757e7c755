"""How the rounds of the past were worked: how long, by how many, and what went in."""

from dataclasses import dataclass
from datetime import datetime, timedelta
from decimal import Decimal

from fieldapp.assess.take_off import TakeOff, take_off, wanted_by_round
from fieldapp.work.demo.history.advancing import TrueRound
from fieldapp.work.demo.history.draws import Draws
from fieldapp.work.demo.history.truth import (
    DELAY_MIN,
    DELAYED,
    MINUTES_PER_M2,
    PACE_SPREAD,
    PEOPLE,
    SPOILT,
)
from fieldapp.work.work_figures import CAUSES, WHY_BEYOND
from schemas.bodies.round import Round
from schemas.bodies.work_seen import BoltsUsed, Delay, Used, WorkSeen
from schemas.standard import SupportClass


@dataclass(frozen=True)
class Worked:
    """A round whose work is told: where, what is true of it, and when it was finished."""

    heading: str
    one: TrueRound
    demanded: SupportClass
    finished_at: datetime


def work_of(worked: Worked, seen: Round, draws: Draws) -> WorkSeen:
    """Give what the crew stated of the work of a round."""
    one, finished_at = worked.one, worked.finished_at
    found = take_off(worked.demanded, wanted_by_round(worked.demanded, seen))
    about = (worked.heading, one.number)
    delays = _delays(draws, *about)
    held_up_min = sum(it.minutes for it in delays)
    minutes = round(_minutes(one, found, draws.around(1.0, PACE_SPREAD, "pace", *about)))
    chance = one.crew.goes_beyond if one.method == "hand-held" else 0.0
    beyond = draws.whether(chance, "beyond", *about)
    return WorkSeen(
        started_at=finished_at - timedelta(minutes=minutes + held_up_min),
        finished_at=finished_at,
        crew_size=PEOPLE[one.method],
        method=one.method,
        delays=delays,
        used=_used(found, draws, *about),
        beyond_last_row=beyond,
        beyond_reason=draws.one_of(WHY_BEYOND, "why", *about) if beyond else None,
    )


def _minutes(one: TrueRound, found: TakeOff, pace: float) -> float:
    rock_m2 = float(found.line_m * found.wanted.advance_m)
    return rock_m2 * MINUTES_PER_M2[one.method] * one.crew.pace * pace


def _delays(draws: Draws, *about: object) -> tuple[Delay, ...]:
    if not draws.whether(DELAYED, "delayed", *about):
        return ()
    minutes = draws.one_of(DELAY_MIN, "how long", *about)
    return (Delay(minutes=minutes, cause=draws.one_of(CAUSES, "cause", *about)),)


def _used(found: TakeOff, draws: Draws, *about: object) -> Used:
    """Give what went in: some bolts were spoilt, with their plates and resin."""
    share = 1 + 2 * SPOILT * draws.share("spoilt", *about)
    much = {it.kind: Decimal(0) for it in found.items}
    for it in found.items:
        much[it.kind] += it.per_round
    bolts = tuple(
        BoltsUsed(bolt_type=it.of, bolts=round(float(it.per_round) * share))
        for it in found.items
        if it.kind == "bolts"
    )
    pieces = much.get("sheets", much.get("strips"))
    capsules = much.get("capsules")
    return Used(
        bolts=bolts,
        plates=sum(it.bolts for it in bolts),
        mesh_pieces=None if pieces is None else int(pieces),
        capsules=None if capsules is None else round(float(capsules) * share),
    )
