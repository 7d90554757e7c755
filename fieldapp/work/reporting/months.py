"""What came of each month in a heading, and in several together."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta, tzinfo
from decimal import Decimal
from typing import Final

from fieldapp.assess.entry.coverage import Coverage, covered, signed_stretches
from fieldapp.assess.entry.facts import HeadingFacts
from fieldapp.work.reporting.facts import (
    MonthTold,
)
from fieldapp.work.reporting.told import (
    DamageTold,
    RepairTold,
    RoundTold,
)

MONTHS_A_YEAR: Final = 12
SHOWN: Final = 24
"""So many months back a trend is shown."""


@dataclass(frozen=True)
class Told:
    """What is known of one heading, as far as its months follow from it."""

    facts: HeadingFacts
    rounds: Sequence[RoundTold]
    damages: Sequence[DamageTold]
    repairs: Sequence[RepairTold]


def month_of(at: datetime, zone: tzinfo) -> str:
    """Name the month of a time by the mine's own clock: "2031-05"."""
    local = at.astimezone(zone)
    return _named(local.year * MONTHS_A_YEAR + local.month - 1)


def start_of(month: str, zone: tzinfo) -> datetime:
    """Give when a month begins by the mine's own clock."""
    year, number = divmod(_count(month), MONTHS_A_YEAR)
    return datetime(year, number + 1, 1, tzinfo=zone).astimezone(UTC)


def end_of(month: str, zone: tzinfo) -> datetime:
    """Give when a month is over: when the next one begins."""
    return start_of(_named(_count(month) + 1), zone)


def last_second_of(month: str, zone: tzinfo) -> datetime:
    """Give the last moment of a month for which a report may be asked."""
    return end_of(month, zone) - timedelta(seconds=1)


def months_between(first: str, last: str) -> tuple[str, ...]:
    """Name every month from the first to the last, the last `SHOWN` of them."""
    numbers = range(_count(first), _count(last) + 1)[-SHOWN:]
    return tuple(map(_named, numbers))


def months_to(last: str, many: int) -> tuple[str, ...]:
    """Name so many months, the last of them the one that is given."""
    return tuple(map(_named, range(_count(last) + 1)[-many:]))


def _count(month: str) -> int:
    year, _, number = month.partition("-")
    return int(year) * MONTHS_A_YEAR + int(number) - 1


def _named(count: int) -> str:
    year, number = divmod(count, MONTHS_A_YEAR)
    return f"{year:04}-{number + 1:02}"


def months_told(told: Told, at: datetime, zone: tzinfo) -> tuple[MonthTold, ...]:
    """Tell of each month from the first in which anything was stated to that of a time."""
    last = month_of(at, zone)
    first = min((month_of(it, zone) for it in _times(told)), default=last)
    return tuple(_month(told, it, zone) for it in months_between(min(first, last), last))


def together(several: Iterable[Sequence[MonthTold]]) -> tuple[MonthTold, ...]:
    """Add up the months of several headings, the oldest first."""
    by_month: dict[str, list[MonthTold]] = {}
    for it in (month for months in several for month in months):
        by_month.setdefault(it.month, []).append(it)
    return tuple(_added(month, by_month[month]) for month in sorted(by_month))


def _times(told: Told) -> Iterator[datetime]:
    yield from (it.event.at for it in told.facts.events)
    yield from (it.recorded_at for it in told.rounds)
    yield from (it.first_seen_at for it in told.damages)


def _month(told: Told, month: str, zone: tzinfo) -> MonthTold:
    def within(at: datetime | None) -> bool:
        return at is not None and month_of(at, zone) == month

    fired = _covered(told.facts, within)
    first = [it for it in told.rounds if within(it.first_signed_at)]
    read = (it.last_row_to_face_m for it in told.rounds if within(it.recorded_at))
    return MonthTold(
        month=month,
        fired_m=fired.fired_m,
        signed_m=fired.signed_m,
        signed_off=len(first),
        accepted_first=sum(it.first_decision == "accepted" for it in first),
        last_row_to_face_m=max(filter(None, read), default=None),
        damage_found=sum(within(it.first_seen_at) for it in told.damages),
        damage_repaired=len(
            {one for it in told.repairs if within(it.verified_at) for one in it.damages}
        ),
    )


def _covered(facts: HeadingFacts, within: Callable[[datetime], bool]) -> Coverage:
    """Give the metres of a month's firings, and how many of them lie under accepted rounds."""
    signed = signed_stretches(facts.rounds, facts.face_allowance_m)
    found = [
        covered(signed, it.face_before_m, it.face_before_m + it.event.fired_m)
        for it in facts.events
        if it.face_before_m is not None and it.event.fired_m and within(it.event.at)
    ]
    return Coverage(
        sum((it.signed_m for it in found), Decimal(0)),
        sum((it.fired_m for it in found), Decimal(0)),
    )


def _added(month: str, several: Sequence[MonthTold]) -> MonthTold:
    read = (it.last_row_to_face_m for it in several)
    return MonthTold(
        month=month,
        fired_m=sum((it.fired_m for it in several), Decimal(0)),
        signed_m=sum((it.signed_m for it in several), Decimal(0)),
        signed_off=sum(it.signed_off for it in several),
        accepted_first=sum(it.accepted_first for it in several),
        last_row_to_face_m=max(filter(None, read), default=None),
        damage_found=sum(it.damage_found for it in several),
        damage_repaired=sum(it.damage_repaired for it in several),
    )
