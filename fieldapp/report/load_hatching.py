"""The four steps of the load map, each hatched its own way: told apart without any colour.

The denser the hatching, the less is carried. Screen and paper draw the same lines, each in its
own units.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from itertools import pairwise
from math import ceil, floor, sqrt
from typing import Final

from fieldapp.report.pens.pen import Point
from schemas.numbers import STEP_FACTOR, rounded

STEPS_ABOVE: Final = Decimal("1.25")
"""Well carried begins so many times above what the standard asks."""


@dataclass(frozen=True)
class Hatch:
    """How a step is drawn: how close its lines are, which way they slant, and its colour."""

    apart_mm: float
    slants: tuple[int, ...]
    """1 up to the right, -1 down to the right; none leaves the ground open."""
    colour: str


HATCHES: Final = (
    Hatch(1.5, (1, -1), "no_entry"),
    Hatch(1.5, (1,), "rework"),
    Hatch(3.5, (-1,), "measures"),
    Hatch(0.0, (), "quiet"),
)


def step_bounds(at_least_factor: Decimal) -> tuple[Decimal, Decimal, Decimal]:
    """Give where one step ends and the next begins, by what the standard asks."""
    asked = max(at_least_factor, Decimal(1))
    return Decimal(1), asked, rounded(asked * STEPS_ABOVE, STEP_FACTOR)


def step_of(factor: Decimal, bounds: Sequence[Decimal]) -> int:
    """Give the step of a factor: 0 carries less than the demand, 3 well more than is asked."""
    return sum(factor >= bound for bound in bounds)


def hatching(outline: Sequence[Point], apart: float, slant: int) -> Iterator[tuple[Point, Point]]:
    """Give the lines at 45° that hatch a polygon, in the units of its corners."""
    across = [y - slant * x for x, y in outline]
    step = apart * sqrt(2)
    for number in range(ceil(min(across) / step), floor(max(across) / step) + 1):
        crossed = sorted(_crossings(outline, across, number * step))
        yield from zip(crossed[::2], crossed[1::2], strict=False)


def _crossings(outline: Sequence[Point], across: Sequence[float], at: float) -> Iterator[Point]:
    """Find where a line crosses the edges; an end that lies on it belongs to one edge."""
    corners = list(zip(outline, across, strict=True))
    for (one, low), (other, high) in pairwise([*corners, corners[0]]):
        if (low < at) != (high < at):
            share = (at - low) / (high - low)
            yield one[0] + share * (other[0] - one[0]), one[1] + share * (other[1] - one[1])
