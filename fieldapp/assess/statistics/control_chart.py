"""Whether tests made one after another still come from the same work: a chart of single values.

A point outside its limits, or a run on one side of the middle, asks for the reason. It is no
verdict on a bolt: a load within the limits may still be below what the standard demands.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from itertools import pairwise
from typing import Final

from schemas.numbers import rounded
from schemas.trouble import BadInput

VALUES_FACTOR: Final = Decimal("2.66")
"""E₂ = 3/d₂ of ranges of two."""
RANGE_FACTOR: Final = Decimal("3.267")
"""D₄ of ranges of two."""
RUN: Final = 8
"""So many in a row on one side of the middle are a run."""
SETTLED: Final = 20
"""Limits from fewer points are for now only."""


@dataclass(eq=False)
class TooFewPoints(BadInput):
    """One value has no range."""

    points: int
    happened = "{points} values are too few for a chart: it takes two."
    kept = "The values stand as they are."
    do_next = "Go on testing; the chart comes with the second value."


@dataclass(frozen=True)
class ControlChart:
    """Middle and limits, in the unit of the values, and what lies outside, counted from 0."""

    middle: Decimal
    lower: Decimal
    upper: Decimal
    mean_range: Decimal
    range_upper: Decimal
    outside: tuple[int, ...]
    """Values beyond their limits."""
    jumps: tuple[int, ...]
    """Values too far from the one before."""
    runs: tuple[int, ...]
    """Values that are at least the eighth in a row on one side of the middle."""
    settled: bool


def individuals_chart(values: Sequence[Decimal], step: Decimal) -> ControlChart | TooFewPoints:
    """Draw the limits of single values from their moving ranges.

    Parameters
    ----------
    values : sequence of Decimal
        In the order in which they were read, of one kind of bolt and ground. [any]
    step : Decimal
        To what limits are rounded, before anything is compared with them. [same unit]

    Returns
    -------
    ControlChart or TooFewPoints
        Mean ± 2.66·mean range of two; ranges up to 3.267·mean range. [same unit]

    Source
    ------
    NIST/SEMATECH e-Handbook, 6.3.2.2; ISO 7870-2:2013 (factors). The run of eight: Western
    Electric rules, NIST/SEMATECH e-Handbook, 6.3.2.
    """
    if len(values) <= 1:
        return TooFewPoints(len(values))
    ranges = [abs(b - a) for a, b in pairwise(values)]
    mean, mean_range = sum(values) / Decimal(len(values)), sum(ranges) / Decimal(len(ranges))
    off = VALUES_FACTOR * mean_range
    middle, lower, upper = (rounded(it, step) for it in (mean, mean - off, mean + off))
    range_upper = rounded(RANGE_FACTOR * mean_range, step)
    return ControlChart(
        middle=middle,
        lower=lower,
        upper=upper,
        mean_range=rounded(mean_range, step),
        range_upper=range_upper,
        outside=tuple(n for n, it in enumerate(values) if not lower <= it <= upper),
        jumps=tuple(n for n, it in enumerate(ranges, start=1) if it > range_upper),
        runs=_runs(values, middle),
        settled=len(values) >= SETTLED,
    )


def _runs(values: Sequence[Decimal], middle: Decimal) -> tuple[int, ...]:
    found, side, length = [], 0, 0
    for n, value in enumerate(values):
        now = (value > middle) - (value < middle)
        length = length + 1 if now == side else 1
        side = now
        if side and length >= RUN:
            found.append(n)
    return tuple(found)
