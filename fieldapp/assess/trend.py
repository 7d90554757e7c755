"""How fast something changes, from dated readings, however few and however wild one of them is."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from decimal import Decimal
from itertools import combinations
from math import sqrt
from statistics import NormalDist, median
from typing import Final

from fieldapp.assess.interval import Interval
from schemas.numbers import rounded
from schemas.trouble import BadInput

YEAR: Final = timedelta(days=365.25)


@dataclass(frozen=True)
class Dated:
    """A reading, and when it was taken."""

    at: datetime
    value: Decimal


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


@dataclass(frozen=True)
class Trend:
    """How much it changes in a year."""

    per_year: Decimal
    interval: Interval | None
    """None: too few readings for that confidence."""
    readings: int


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
    """Give the median slope of all pairs of readings, and its interval.

    Parameters
    ----------
    readings : sequence of Dated
        In any order; pairs of one moment tell no slope. [any]
    confidence : Decimal
        Two-sided, below 1. [-]

    Returns
    -------
    Slopes or NoTimeBetween
        Unrounded. [same unit per year]

    Source
    ------
    Theil (1950); Sen (1968), equation 2.6 with its correction for ties, as in SciPy's
    `theilslopes`.
    """
    first = min((it.at for it in readings), default=None)
    points = sorted((years_between(first or it.at, it.at), float(it.value)) for it in readings)
    pairs = [(b[1] - a[1]) / (b[0] - a[0]) for a, b in combinations(points, 2) if b[0] > a[0]]
    if not pairs:
        return NoTimeBetween(len(readings))
    pairs.sort()
    z = NormalDist().inv_cdf(float((1 + confidence) / 2))
    times, values = [x for x, _ in points], [y for _, y in points]
    low, high = _ends(len(pairs), z * sqrt(_variance(times, values)))
    at_low, at_high = max(low, 0), min(high, len(pairs) - 1)
    holds = (low, high) == (at_low, at_high) and _enough(len(set(times)), z)
    return Slopes(median(pairs), pairs[at_low], pairs[at_high], holds)


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
        Median of the slopes of all pairs. [same unit per year]

    Source
    ------
    Theil (1950); Sen (1968), see `slopes`.
    """
    found = slopes(readings, confidence)
    if isinstance(found, NoTimeBetween):
        return found
    interval = Interval(rounded(found.low, step), rounded(found.high, step))
    return Trend(rounded(found.median, step), interval if found.holds else None, len(readings))


def _ends(pairs: int, off: float) -> tuple[int, int]:
    """Give which of the sorted slopes are the interval's ends, from 0; beyond them too."""
    return round((pairs - off) / 2) - 1, round((pairs + off) / 2)


def _enough(dates: int, z: float) -> bool:
    """Tell whether so many dates can have an interval; that readings are alike makes no more."""
    pairs = dates * (dates - 1) // 2
    low, high = _ends(pairs, z * sqrt(_term(dates) / 18))
    return low >= 0 and high < pairs


def _variance(times: Sequence[float], values: Sequence[float]) -> float:
    """Give the variance of Kendall's S, less what ties take from it."""
    tied = (*Counter(times).values(), *Counter(values).values())
    return max(0.0, (_term(len(times)) - sum(map(_term, tied))) / 18)


def _term(n: int) -> int:
    return n * (n - 1) * (2 * n + 5)
