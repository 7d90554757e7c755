"""The middle of several figures, and how sure it is, whatever their distribution."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from math import comb
from statistics import median

from fieldapp.assess.statistics.interval import Interval
from schemas.numbers import rounded


@dataclass(frozen=True)
class Middle:
    """The median of figures."""

    median: Decimal
    interval: Interval | None
    """None: too few figures for that confidence; at 95 % it takes 6."""
    figures: int


def middle(figures: Sequence[Decimal], confidence: Decimal, step: Decimal) -> Middle:
    """Give the median and its interval between two of the figures themselves.

    Parameters
    ----------
    figures : sequence of Decimal
        At least one, in any order. [any]
    confidence : Decimal
        Two-sided, below 1. [-]
    step : Decimal
        To what the median is rounded. [same unit]

    Returns
    -------
    Middle
        The interval holds the true median at least so often. [same unit]

    Source
    ------
    Conover, Practical Nonparametric Statistics, 3.2: ends are order statistics, by the
    binomial distribution with one half. From memory.
    """
    ordered = sorted(figures)
    cut = _cut(len(ordered), confidence)
    interval = None if cut is None else Interval(ordered[cut], ordered[-1 - cut])
    return Middle(rounded(median(ordered), step), interval, len(ordered))


def _cut(figures: int, confidence: Decimal) -> int | None:
    """Give how many figures lie beyond either end; None where even none is too many."""
    missed, cut = 1 - confidence, None
    tail = Decimal(0)
    for beyond in range(figures // 2):
        tail += Decimal(comb(figures, beyond)) / Decimal(2) ** figures
        if 2 * tail > missed:
            break
        cut = beyond
    return cut
