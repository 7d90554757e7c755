"""How fast something changes, from dated readings, however few and however wild one of them is.

Readings of several places are each compared with others of their own place: a place that was
read later and stands higher is no rise.
"""

from collections import Counter, defaultdict
from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from decimal import Decimal
from itertools import combinations
from math import sqrt
from statistics import NormalDist, median
from typing import Final, Literal

from fieldapp.assess.statistics.interval import Interval
from schemas.numbers import rounded
from schemas.trouble import BadInput

YEAR: Final = timedelta(days=365.25)
MOST_PAIRS: Final = 250_000
"""More are not compared, since their number grows with the square of the readings'."""

Period = Literal["month", "quarter", "year"]
_IN_A_YEAR: Final[dict[Period, int]] = {"month": 12, "quarter": 4, "year": 1}
_Point = tuple[float, float]


@dataclass(frozen=True)
class Dated:
    """A reading, when it was taken, and of which place it is."""

    at: datetime
    value: Decimal
    place: str = ""


@dataclass(eq=False)
class NoTimeBetween(BadInput):
    """Readings of one moment tell no rate."""

    readings: int
    happened = "{readings} readings from fewer than two dates tell no rate."
    kept = "The readings stand as they are."
    do_next = "Read again at the same place on the next walk."


@dataclass(frozen=True)
class Slopes:
    """The slopes of all pairs of readings [units a year], unrounded; their median is the trend."""

    median: float
    low: float
    high: float
    """The interval's ends; of all slopes, where there are too few for the confidence."""
    holds: bool
    """Whether the interval has the confidence that was asked for: at 95 % it takes 5 readings."""
    places: int
    """Of which slopes are known, each compared with itself."""
    pooled: Period | None
    """Whose medians stand for its readings, where there are too many; None: each by itself."""


@dataclass(frozen=True)
class Trend:
    """How much it changes in a year."""

    per_year: Decimal
    interval: Interval | None
    """None: too few readings for that confidence."""
    readings: int
    places: int = 1
    pooled: Period | None = None


def years_between(first: datetime, then: datetime) -> float:
    """Give the time from one moment to another.

    Parameters
    ----------
    first : datetime
        From when. [any zone]
    then : datetime
        Until when. [any zone]

    Returns
    -------
    float
        Of 365.25 days each; negative where `then` is the earlier. [years]

    Source
    ------
    Common practice, no source: the Julian year.
    """
    return (then - first) / YEAR


def slopes(readings: Sequence[Dated], confidence: Decimal) -> Slopes | NoTimeBetween:
    """Give the median slope of all pairs of readings of one place, and its interval.

    Where there would be more than `MOST_PAIRS`, the median of each place's month stands for its
    readings in it, else of its quarter or year.

    Parameters
    ----------
    readings : sequence of Dated
        In any order; pairs of one moment, or of two places, tell no slope. [any]
    confidence : Decimal
        Two-sided, below 1. [-]

    Returns
    -------
    Slopes or NoTimeBetween
        Unrounded. [same unit per year]

    Source
    ------
    Theil (1950); Sen (1968), equation 2.6 with its correction for ties, as in SciPy's
    `theilslopes`. Several places: Hirsch, Slack and Smith (1982) for the median of slopes within
    blocks and the sum of their variances; Helsel and Frans (2006) for places as blocks. That a
    period's median stands for its readings: common practice, no source.
    """
    pooled, places = _bounded(_by_place(readings))
    known = [it for it in places if len({x for x, _ in it}) > 1]
    pairs = sorted(slope for points in known for slope in _slopes(points))
    if not pairs:
        return NoTimeBetween(len(readings))
    z = NormalDist().inv_cdf(float((1 + confidence) / 2))
    low, high = _ends(len(pairs), z * sqrt(sum(map(_variance, known))))
    at_low, at_high = max(low, 0), min(high, len(pairs) - 1)
    enough = _enough([len({x for x, _ in points}) for points in known], z)
    holds = (low, high) == (at_low, at_high) and enough
    return Slopes(median(pairs), pairs[at_low], pairs[at_high], holds, len(known), pooled)


def _by_place(readings: Sequence[Dated]) -> list[list[_Point]]:
    """Give the readings of each place, as years since the first of all, in order."""
    first = min((it.at for it in readings), default=None)
    found = defaultdict(list)
    for it in readings:
        found[it.place].append((years_between(first or it.at, it.at), float(it.value)))
    return [sorted(points) for points in found.values()]


def _bounded(places: list[list[_Point]]) -> tuple[Period | None, list[list[_Point]]]:
    """Give points of so few pairs that they can be compared, and what each of them stands for."""
    pooled, found = None, places
    for period, in_a_year in _IN_A_YEAR.items():
        if sum(len(it) * (len(it) - 1) // 2 for it in found) <= MOST_PAIRS:
            break
        pooled, found = period, [list(_medians(it, in_a_year)) for it in places]
    return pooled, found


def _medians(points: Iterable[_Point], in_a_year: int) -> Iterator[_Point]:
    within = defaultdict(list)
    for x, y in points:
        within[int(x * in_a_year)].append((x, y))
    for _, several in sorted(within.items()):
        yield median(x for x, _ in several), median(y for _, y in several)


def _slopes(points: Sequence[_Point]) -> Iterator[float]:
    return ((b[1] - a[1]) / (b[0] - a[0]) for a, b in combinations(points, 2) if b[0] > a[0])


def trend(readings: Sequence[Dated], confidence: Decimal, step: Decimal) -> Trend | NoTimeBetween:
    """Give how much readings change in a year, and the interval of that.

    Parameters
    ----------
    readings : sequence of Dated
        In any order. [any]
    confidence : Decimal
        Two-sided, below 1. [-]
    step : Decimal
        To what the result is rounded. [same unit per year]

    Returns
    -------
    Trend or NoTimeBetween
        Median of the slopes of all pairs of one place. [same unit per year]

    Source
    ------
    Theil (1950); Sen (1968), see `slopes`.
    """
    found = slopes(readings, confidence)
    if isinstance(found, NoTimeBetween):
        return found
    interval = Interval(rounded(found.low, step), rounded(found.high, step))
    sure = interval if found.holds else None
    return Trend(rounded(found.median, step), sure, len(readings), found.places, found.pooled)


def _ends(pairs: int, off: float) -> tuple[int, int]:
    """Give which of the sorted slopes are the interval's ends, from 0; beyond them too."""
    return round((pairs - off) / 2) - 1, round((pairs + off) / 2)


def _enough(dates: Collection[int], z: float) -> bool:
    """Tell whether so many dates a place can have an interval; readings alike make no more."""
    pairs = sum(n * (n - 1) // 2 for n in dates)
    low, high = _ends(pairs, z * sqrt(sum(map(_term, dates)) / 18))
    return low >= 0 and high < pairs


def _variance(points: Sequence[_Point]) -> float:
    """Give the variance of Kendall's S, less what ties take from it."""
    times, values = (Counter(it) for it in zip(*points, strict=True))
    tied = (*times.values(), *values.values())
    return max(0.0, (_term(len(points)) - sum(map(_term, tied))) / 18)


def _term(n: int) -> int:
    return n * (n - 1) * (2 * n + 5)
