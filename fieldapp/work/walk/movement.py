"""How far and how fast rock moves at a station, by every reading of it; it judges nothing."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta, tzinfo
from decimal import Decimal
from typing import Final

from fieldapp.assess.statistics.trend import Dated, Trend, trend
from fieldapp.assess.times import date_words
from fieldapp.assess.walk import Section
from fieldapp.work.walk.read_apart import doubt_between
from fieldapp.work.walk.section_history import Look
from schemas.bodies.walk import Between, DistanceRead
from schemas.numbers import rounded, text

MOST_AT_ONCE_MM: Final[Mapping[Between, int]] = {"walls": 100, "back and floor": 100, "crack": 20}
"""Whoever reads more than this between two walks reads again. Common practice, no source."""
LEAST_SPAN: Final = timedelta(days=7)
"""Over less time the doubt of two readings is more than any rate. Common practice, no source."""
CONFIDENCE: Final = Decimal("0.95")
MONTHS: Final = 12
_STEP_MM: Final = Decimal("0.1")


@dataclass(frozen=True)
class Moved:
    """What two readings or more of one station tell."""

    newest: DistanceRead
    by_mm: Decimal
    """The newest reading less the one before: negative where it closes."""
    doubt_mm: Decimal
    """By how much those two may differ while nothing moved, at 95 %."""
    since: datetime
    """When the one before was read, in the mine's own time."""
    rate: Trend | None
    """Over all readings, in mm a year; None where they span too little time."""

    @property
    def words(self) -> str:
        """Say it: "CV-7, walls: closed by 12 mm since 4 May 2031, doubt ± 9.9 mm; …"."""
        name = f"{self.newest.station}, {self.newest.between}"
        sure = "" if abs(self.by_mm) > self.doubt_mm else ", which may be nothing"
        moved = f"{_how(self.by_mm)} since {date_words(self.since)}"
        return f"{name}: {moved}, doubt ± {text(self.doubt_mm)} mm{sure}; {self._rate_words}"

    @property
    def _rate_words(self) -> str:
        if self.rate is None:
            return "too short a time for a rate"
        sure = "no interval: too few dates"
        if self.rate.interval is not None:
            low, high = map(_a_month, (self.rate.interval.low, self.rate.interval.high))
            sure = f"{text(low)} to {text(high)}, 95 %"
        per_month = text(_a_month(self.rate.per_year))
        return f"over all readings {per_month} mm a month ({sure}; {self.rate.readings} readings)"


def movements(looks: Iterable[Look], section: Section, zone: tzinfo) -> tuple[Moved, ...]:
    """Give how each station moved that lies in a section today and was read twice or more."""
    by_station: dict[tuple[str, Between], list[tuple[datetime, DistanceRead]]] = {}
    for look in sorted(looks, key=lambda it: it.seen.at):
        for read in look.seen.distances:
            if section.from_m <= look.chaining.today_m(read.chainage_m) <= section.to_m:
                at = (read.read_at or look.seen.at).astimezone(zone)
                by_station.setdefault((read.station, read.between), []).append((at, read))
    return tuple(_moved(it) for it in by_station.values() if len(it) > 1)


def too_far(read: DistanceRead, last_mm: Decimal | None) -> str | None:
    """Say why a reading is asked about, as it was not read twice; None where it may well be."""
    if last_mm is None or read.read_twice:
        return None
    by_mm = read.read_mm - last_mm
    if abs(by_mm) <= MOST_AT_ONCE_MM[read.between]:
        return None
    way = "less" if by_mm < 0 else "more"
    return f"{text(abs(by_mm))} mm {way} than last time, {text(last_mm)} mm"


def last_at(looks: Iterable[Look], read: DistanceRead) -> Decimal | None:
    """Give what was read last at the station of a reading, newest look first."""
    return next(_of_station(looks, read), None)


def _of_station(looks: Iterable[Look], read: DistanceRead) -> Iterator[Decimal]:
    for look in looks:
        for it in look.seen.distances:
            if (it.station, it.between) == (read.station, read.between):
                yield it.read_mm


def _moved(readings: list[tuple[datetime, DistanceRead]]) -> Moved:
    (since, before), (_at, newest) = readings[-2:]
    dated = [Dated(at, read.read_mm) for at, read in readings]
    found = trend(dated, CONFIDENCE, _STEP_MM) if _span(dated) >= LEAST_SPAN else None
    return Moved(
        newest=newest,
        by_mm=newest.read_mm - before.read_mm,
        doubt_mm=doubt_between(newest, before),
        since=since,
        rate=found if isinstance(found, Trend) else None,
    )


def _span(dated: list[Dated]) -> timedelta:
    times = [it.at for it in dated]
    return max(times) - min(times)


def _how(by_mm: Decimal) -> str:
    if by_mm == 0:
        return "as it was"
    return f"{'closed' if by_mm < 0 else 'opened'} by {text(abs(by_mm))} mm"


def _a_month(per_year: Decimal) -> Decimal:
    return rounded(per_year / MONTHS, _STEP_MM)
