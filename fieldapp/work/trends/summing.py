"""How samples come to points: one by one, or a month's together."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from decimal import Decimal
from typing import Final
from zoneinfo import ZoneInfo

from fieldapp.assess.statistics.control_chart import ControlChart, TooFewPoints, individuals_chart
from fieldapp.assess.statistics.interval import Interval
from fieldapp.assess.statistics.median_interval import Middle, middle
from fieldapp.assess.statistics.proportion import clopper_pearson
from fieldapp.assess.statistics.trend import Dated, NoTimeBetween, Trend, trend
from fieldapp.work.trends.points import Grouping, Measure, Point, Sample, Series
from schemas.numbers import rounded

CONFIDENCE: Final = Decimal("0.95")
_PERCENT: Final = Decimal(100)
_LONGER_THAN_A_MONTH: Final = timedelta(days=32)


@dataclass(frozen=True)
class Months:
    """The months that are counted: by the mine's own clock, up to the one that runs."""

    zone: ZoneInfo
    until: datetime

    def of(self, at: datetime) -> datetime:
        """Give the beginning of the month of a time."""
        local = at.astimezone(self.zone)
        return local.replace(day=1, hour=0, minute=0, second=0, microsecond=0).astimezone(UTC)

    def after(self, month: datetime) -> datetime:
        """Give the beginning of the month that follows."""
        return self.of(month + _LONGER_THAN_A_MONTH)

    def since(self, month: datetime) -> Iterator[datetime]:
        """Yield every month from one up to the one that runs, also where nothing happened."""
        while month <= self.until:
            yield month
            month = self.after(month)


def series_of(
    measure: Measure, samples: Iterable[Sample], by: Grouping, months: Months
) -> tuple[Series, ...]:
    """Give a series for each group that has samples, in the order of the groups' names."""
    by_group: dict[str, list[Sample]] = defaultdict(list)
    for sample in samples:
        if by in sample.groups:
            by_group[sample.groups[by]].append(sample)
    return tuple(_series(measure, name, by_group[name], months) for name in sorted(by_group))


def _series(measure: Measure, group: str, samples: Sequence[Sample], months: Months) -> Series:
    in_time = sorted(samples, key=lambda it: (it.at, it.evidence.id))
    if measure.summary == "each":
        points = tuple(_each(measure, it) for it in in_time)
    else:
        points = tuple(_by_month(measure, in_time, months))
    chart = _chart(measure, points)
    outside = frozenset((*chart.outside, *chart.jumps, *chart.runs) if chart else ())
    course, level = _trend(measure, points), _middle(measure, points)
    whole = _in_all(measure, in_time)
    return Series(measure, group, points, chart, course, level, outside, in_all=whole)


def _in_all(measure: Measure, in_time: Sequence[Sample]) -> Point | None:
    """Sum up everything as one month: a month has too few to tell one group from another."""
    if measure.summary != "share" or measure.of_places:
        return None
    return _month(measure, in_time[0].at, in_time)


def _each(measure: Measure, sample: Sample) -> Point:
    value = rounded(sample.value, measure.step)
    return Point(sample.at, value, (sample.evidence,), place=sample.place)


def _by_month(measure: Measure, samples: Sequence[Sample], months: Months) -> Iterator[Point]:
    """Sum the samples up by month. A month without any counts nothing, and has no share."""
    by_month: Mapping[datetime, list[Sample]] = defaultdict(list)
    for sample in samples:
        by_month[months.of(sample.at)].append(sample)
    for month in months.since(min(by_month)):
        if month in by_month or measure.summary == "count":
            yield _month(measure, month, by_month[month])


def _month(measure: Measure, month: datetime, samples: Sequence[Sample]) -> Point:
    """Sum a month up. What a share stands on is what fell short of it, else everything.

    A place that was looked at twice in a month is one place: it counts as it was seen last.
    """
    if measure.of_places:
        samples = list({it.place: it for it in samples}.values())
    value = sum((it.value for it in samples), Decimal(0))
    of = sum((it.of for it in samples), Decimal(0))
    evidence = tuple(dict.fromkeys(it.evidence for it in _telling(measure, samples)))
    if measure.summary == "count" or not of:
        return Point(month, rounded(value, measure.step), evidence)
    share = rounded(value / of * _PERCENT, measure.step)
    return Point(month, share, evidence, of, _interval(measure, value, of))


def _telling(measure: Measure, samples: Sequence[Sample]) -> Iterator[Sample]:
    """Give the samples that somebody wants to look at first: those that aren't as wanted."""
    if measure.summary == "share" and measure.wanted != "as it is":
        bad = (lambda it: it.value < it.of) if measure.wanted == "more" else (lambda it: it.value)
        yield from filter(bad, samples)
    yield from samples


def _interval(measure: Measure, value: Decimal, of: Decimal) -> Interval | None:
    if not measure.counted:
        return None
    found = clopper_pearson(int(value), int(of), CONFIDENCE)
    low, high = (rounded(it * _PERCENT, measure.step) for it in (found.low, found.high))
    return Interval(low, high)


def _chart(measure: Measure, points: Sequence[Point]) -> ControlChart | None:
    if not measure.charted:
        return None
    chart = individuals_chart([it.value for it in points], measure.step)
    return None if isinstance(chart, TooFewPoints) else chart


def _trend(measure: Measure, points: Sequence[Point]) -> Trend | None:
    found = trend([Dated(it.at, it.value, it.place) for it in points], CONFIDENCE, measure.step)
    return None if isinstance(found, NoTimeBetween) else found


def _middle(measure: Measure, points: Sequence[Point]) -> Middle | None:
    if not measure.has_middle:
        return None
    return middle([it.value for it in points], CONFIDENCE, measure.step)
