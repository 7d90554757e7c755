"""What a month's report says of the work: pace and cost, delays, take-off against what was used.

By heading and method, never by name: no verdict. A round counts in the month in which it was
first signed, or recorded where nobody has signed; new support over old counts as a round.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Final, get_args
from zoneinfo import ZoneInfo

from fieldapp.assess.statistics.proportion import clopper_pearson
from fieldapp.assess.take_off import Kind
from fieldapp.work.beyond import all_beyond
from fieldapp.work.known import Known, current
from fieldapp.work.reporting.months import month_of, months_to
from fieldapp.work.reporting.then import Reported
from fieldapp.work.reporting.told import MaterialTold
from fieldapp.work.reporting.told_of_work import (
    BeyondTold,
    DelayTold,
    PaceTold,
    TakenTold,
    WorkDone,
)
from fieldapp.work.reporting.worked import materials_told
from fieldapp.work.rounds import rounds
from fieldapp.work.standard_in_force import of_revision
from fieldapp.work.trends.of_work import PACE, pace
from fieldapp.work.trends.points import Series
from fieldapp.work.trends.round_figures import RoundFigures, round_figures
from fieldapp.work.trends.summing import CONFIDENCE, Months, series_of
from schemas.bodies.heading import Heading
from schemas.bodies.looked_into import LookedInto
from schemas.bodies.round import Round
from schemas.bodies.work_seen import WorkMethod
from schemas.numbers import rounded

MONTHS: Final = 12
"""So far back a month is compared, itself the last."""
_PERCENT: Final = Decimal(100)
_TENTH: Final = Decimal("0.1")
_ORDERED_ONLY: Final[tuple[Kind, ...]] = ("rolls", "packs")
"""How mesh comes to the mine: nobody counts them in a round."""


@dataclass(frozen=True)
class Done:
    """One round of which work may be stated."""

    place: Known[Heading]
    seen: Known[Round]
    figures: RoundFigures


def done_in(on: Reported, place: Known[Heading]) -> tuple[Done, ...]:
    """Gather the rounds of a heading, with the figures of their work."""
    figures = {it.round_id: it for it in round_figures(on.sight, place.id)}
    return tuple(Done(place, it, figures[it.id]) for it in rounds(on.sight, place.id))


def work_done(on: Reported, several: Sequence[Done], month: str) -> WorkDone:
    """Tell of the work of a month; `several` are the rounds of every heading of the report."""
    zone = ZoneInfo(on.sight.settings.zone)
    by_month = _by_month(several, month, zone)
    now = by_month[month]
    told = [it for months in by_month.values() for it in months]
    said = [it.figures.beyond_last_row for it in now if it.figures.beyond_last_row is not None]
    sure = clopper_pearson(sum(said), len(said), CONFIDENCE) if said else None
    return WorkDone(
        rounds=len(now),
        stated=sum(it.seen.body.work is not None for it in now),
        pace=(*_paces(on, now, month), *_paces(on, told, None)),
        by_month=tuple(_month_by_month(on, by_month)),
        beyond_said=len(said),
        beyond_stated=sum(said),
        beyond_low_percent=rounded(sure.low * _PERCENT, _TENTH) if sure else None,
        beyond_high_percent=rounded(sure.high * _PERCENT, _TENTH) if sure else None,
        beyond=tuple(_beyond(on, now)),
        delays_said=sum(_delays(it) is not None for it in now),
        delays=tuple(_delays_told(now)),
        materials=tuple(_materials(on, now)),
    )


def _by_month(several: Iterable[Done], month: str, zone: ZoneInfo) -> Mapping[str, list[Done]]:
    """Sort out the rounds of the twelve months, in the order of time."""
    months: dict[str, list[Done]] = {it: [] for it in months_to(month, MONTHS)}
    for it in sorted(several, key=lambda it: (it.figures.at, it.seen.id)):
        of = month_of(it.figures.at, zone)
        if of in months:
            months[of].append(it)
    return months


def _paces(on: Reported, several: Sequence[Done], month: str | None) -> Iterator[PaceTold]:
    groups: dict[tuple[str, str, WorkMethod | None], list[Done]] = defaultdict(list)
    for it in several:
        groups[it.place.body.name, it.place.id, it.figures.method].append(it)
    for (name, _, method), these in sorted(groups.items(), key=lambda it: _order(it[0])):
        for found in _series(on, these):
            yield _told(found, name, method, month)


def _month_by_month(on: Reported, by_month: Mapping[str, Sequence[Done]]) -> Iterator[PaceTold]:
    for month, several in by_month.items():
        methods = {it.figures.method for it in several}
        for method in sorted(methods, key=str):
            these = [it for it in several if it.figures.method == method]
            for found in _series(on, these):
                yield _told(found, None, method, month)


def _order(of: tuple[str, str, WorkMethod | None]) -> tuple[str, str, str]:
    return of[0], of[1], of[2] or ""


def _series(on: Reported, several: Sequence[Done]) -> Iterator[Series]:
    """Give what is followed of some rounds; sums in different currencies apart."""
    months = Months(ZoneInfo(on.sight.settings.zone), on.at)
    for what in PACE:
        samples = (sample for it in several for sample in pace(what, it.place, (it.figures,)))
        yield from series_of(what, samples, "mine", months)


def _told(
    found: Series, heading: str | None, method: WorkMethod | None, month: str | None
) -> PaceTold:
    middle = found.middle
    if middle is None:
        raise ValueError(f"{found.measure.key} has no middle")
    sure, course = middle.interval, found.trend.interval if found.trend else None
    return PaceTold(
        measure=found.measure.key,
        title=found.measure.title,
        unit=found.measure.unit,
        currency=found.group or None,
        heading=heading,
        method=method,
        month=month,
        rounds=middle.figures,
        median=middle.median,
        low=sure.low if sure else None,
        high=sure.high if sure else None,
        days=(found.points[-1].at - found.points[0].at).days,
        per_year=found.trend.per_year if found.trend and course else None,
        per_year_low=course.low if course else None,
        per_year_high=course.high if course else None,
    )


def _beyond(on: Reported, several: Sequence[Done]) -> Iterator[BeyondTold]:
    """Tell of each, also of one that was stated once and taken back by recording it anew."""
    done = {it.seen.id: it for it in several}
    for place in {it.place.id: it.place for it in several}.values():
        looked = current(on.sight, "looked_into", LookedInto, heading=place.id)
        into = {(it.body.round, it.body.reason): it for it in looked}
        here = [it.seen for it in several if it.place.id == place.id]
        for it in all_beyond(on.sight, place.id, here):
            one, found = done.get(it.round_id), into.get((it.round_id, it.reason))
            if one is not None:
                yield BeyondTold(
                    heading=place.body.name,
                    round=one.figures.name,
                    at=one.figures.at,
                    reason=it.reason,
                    looked_into_at=found.entry.made_at if found else None,
                    found=found.body.found if found else None,
                )


def _delays(it: Done) -> Sequence[tuple[str, int]] | None:
    work = it.seen.body.work
    if work is None or work.delays is None:
        return None
    return [(one.cause, one.minutes) for one in work.delays]


def _delays_told(several: Sequence[Done]) -> Iterator[DelayTold]:
    minutes: dict[str, int] = defaultdict(int)
    held_up: dict[str, set[str]] = defaultdict(set)
    for it in several:
        for cause, took_min in _delays(it) or ():
            minutes[cause] += took_min
            held_up[cause].add(it.seen.id)
    for cause in sorted(minutes, key=lambda it: (-minutes[it], it)):
        yield DelayTold(cause=cause, rounds=len(held_up[cause]), minutes=minutes[cause])


def _materials(on: Reported, several: Sequence[Done]) -> Iterator[TakenTold]:
    taken: dict[tuple[str, str, Kind, str], list[tuple[str, MaterialTold]]] = defaultdict(list)
    for it in several:
        shown = of_revision(on.sight, it.seen.body.standard)
        found = materials_told(it.seen.body, shown.body) if shown else ()
        for one in found:
            if one.thing not in _ORDERED_ONLY:
                of = one.of if one.thing == "bolts" else ""
                taken[it.place.body.name, it.place.id, one.thing, of].append((it.seen.id, one))
    order = get_args(Kind)
    for key in sorted(taken, key=lambda it: (it[0], it[1], order.index(it[2]), it[3])):
        name, _, thing, of = key
        told = _taken(name, thing, of, taken[key])
        if thing != "mesh" or told.counted:  # where nobody measured it, its pieces stand for it
            yield told


def _taken(
    heading: str, thing: Kind, of: str, several: Sequence[tuple[str, MaterialTold]]
) -> TakenTold:
    """Add up one thing over the rounds of a heading, each named with what it took."""
    counted = [(of_round, it) for of_round, it in several if it.used is not None]
    by_standard = sum((it.by_standard for _, it in counted), Decimal(0))
    used = sum((it.used for _, it in counted if it.used is not None), Decimal(0))
    return TakenTold(
        heading=heading,
        thing=thing,
        of=of,
        unit=several[0][1].unit,
        rounds=len({of_round for of_round, _ in several}),
        needed=sum((it.by_standard for _, it in several), Decimal(0)),
        counted=len({of_round for of_round, _ in counted}),
        by_standard=by_standard,
        used=used if counted else None,
        difference=used - by_standard if counted else None,
    )
