"""What a bolt's pull tells: whether it held a proof load, what it reached, how stiff it was.

A proof test stops at its load; a destructive one goes on until something gives. They are never
mixed. Displacement is of the head, so the stretch of bolt and rig is in it.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from itertools import pairwise
from typing import Final, Literal

from schemas.bodies.bolt_test import PullReading
from schemas.numbers import STEP_KN, rounded

Fault = Literal[
    "load not reached", "held too short", "slip too large", "not known how long it was held"
]
Contradiction = Literal[
    "nothing was pulled", "time runs backwards", "load was gone before the hold was over"
]

ELASTIC: Final = (Decimal("0.2"), Decimal("0.6"))
"""Shares of the peak between which a pull is taken to be elastic: above slack, below slip."""
FEWEST: Final = 3
"""With two readings any line fits."""
STRAIGHT: Final = Decimal("0.95")
"""Least share of the spread of loads that the line explains (R²)."""
_STEP_STIFFNESS: Final = Decimal("0.1")
_SECONDS = Decimal(60)


@dataclass(frozen=True)
class Hold:
    """The longest time at or above a load without a break."""

    held_s: Decimal | None
    """None: nobody read a time or said how long."""
    slip_mm: Decimal
    """The most that the head had come out by its end."""


@dataclass(frozen=True)
class ProofJudged:
    """Whether a proof test passed, and what stands against it."""

    peak_kn: Decimal
    hold: Hold | None
    """None: the load was never reached."""
    faults: tuple[Fault, ...]

    @property
    def passed(self) -> bool:
        """Reached, held long enough, and no slip too large."""
        return not self.faults


@dataclass(frozen=True)
class Peak:
    """The most that a bolt carried, and how far its head had come then."""

    load_kn: Decimal
    displacement_mm: Decimal


def proof_judged(
    pulled: Sequence[PullReading],
    proof_kn: Decimal,
    hold_min: int,
    slip_at_most_mm: Decimal,
    held_min: int | None = None,
) -> ProofJudged | None:
    """Judge a proof test.

    Parameters
    ----------
    pulled : sequence of PullReading
        In the order in which they were read. [kN, mm, s]
    proof_kn : Decimal
        The load to hold. [kN]
    hold_min : int
        How long. [min]
    slip_at_most_mm : Decimal
        How far the head may have come by then, stretch of bolt and rig in it. [mm]
    held_min : int or None
        How long somebody said it was held; the longer of this and the readings counts. [min]

    Returns
    -------
    ProofJudged or None
        None where nothing was read. [kN, s, mm]

    Source
    ------
    Common practice, no source.
    """
    top = peak(pulled)
    if top is None:
        return None
    hold = held(pulled, proof_kn, held_min)
    return ProofJudged(top.load_kn, hold, tuple(_faults(hold, hold_min, slip_at_most_mm)))


def held(pulled: Sequence[PullReading], load_kn: Decimal, held_min: int | None) -> Hold | None:
    """Find how long a load was held without a break, and how far the head came.

    Parameters
    ----------
    pulled : sequence of PullReading
        In the order in which they were read. [kN, mm, s]
    load_kn : Decimal
        The load. [kN]
    held_min : int or None
        How long somebody said it was held. [min]

    Returns
    -------
    Hold or None
        None where the load was never reached. A load that sagged and was pumped up again was
        held twice, and the longer one counts. [s, mm]

    Source
    ------
    Common practice, no source.
    """
    stretches = list(_stretches(pulled, load_kn))
    if not stretches:
        return None
    first, last = max(stretches, key=lambda it: (_seconds(pulled, it) or Decimal(0), it))
    read = _seconds(pulled, (first, last))
    said = None if held_min is None else held_min * _SECONDS
    known = [it for it in (read, said) if it is not None]
    slip = max(it.displacement_mm for it in pulled[: last + 1])
    return Hold(max(known, default=None), slip)


def peak(pulled: Sequence[PullReading]) -> Peak | None:
    """Give the most that a bolt carried.

    Parameters
    ----------
    pulled : sequence of PullReading
        In the order in which they were read. [kN, mm]

    Returns
    -------
    Peak or None
        The first of several alike; None where nothing was read. [kN, mm]

    Source
    ------
    ISRM suggested method for rockbolt testing, part 1 (1974): the maximum load.
    """
    top = max(pulled, key=lambda it: it.load_kn, default=None)
    return None if top is None else Peak(rounded(top.load_kn, STEP_KN), top.displacement_mm)


def stiffness_kn_per_mm(pulled: Sequence[PullReading]) -> Decimal | None:
    """Give how much load each millimetre took while the bolt was elastic.

    Parameters
    ----------
    pulled : sequence of PullReading
        In the order in which they were read. [kN, mm]

    Returns
    -------
    Decimal or None
        Slope of the line of least squares through the readings on the way up, from 20 to 60 % of
        the peak; None where fewer than three displacements were read there, or they lie on no
        line. [kN/mm]

    Source
    ------
    Least squares; the range of loads is common practice, no source.
    """
    points = list(_on_the_way_up(pulled))
    if len({x for x, _ in points}) < FEWEST:
        return None
    n = Decimal(len(points))
    mean_x, mean_y = sum(x for x, _ in points) / n, sum(y for _, y in points) / n
    spread_x = sum((x - mean_x) ** 2 for x, _ in points)
    spread_y = sum((y - mean_y) ** 2 for _, y in points)
    both = sum((x - mean_x) * (y - mean_y) for x, y in points)
    if both <= 0 or both**2 < STRAIGHT * spread_x * spread_y:
        return None
    return rounded(Decimal(both / spread_x), _STEP_STIFFNESS)


def contradictions(
    pulled: Sequence[PullReading], load_kn: Decimal, held_min: int | None
) -> tuple[Contradiction, ...]:
    """Name what can't be true of a pull as it was stated.

    Parameters
    ----------
    pulled : sequence of PullReading
        In the order in which they were read. [kN, mm, s]
    load_kn : Decimal
        The load that was to be held. [kN]
    held_min : int or None
        How long somebody said it was held. [min]

    Returns
    -------
    tuple of Contradiction
        Empty where nothing contradicts. [-]

    Source
    ------
    Common practice, no source.
    """
    return tuple(_contradictions(pulled, load_kn, held_min))


def _contradictions(
    pulled: Sequence[PullReading], load_kn: Decimal, held_min: int | None
) -> Iterator[Contradiction]:
    if not any(it.load_kn for it in pulled):
        yield "nothing was pulled"
    times = [it.after_s for it in pulled if it.after_s is not None]
    if any(later < earlier for earlier, later in pairwise(times)):
        yield "time runs backwards"
    if held_min is not None and _was_gone(pulled, load_kn, held_min * _SECONDS):
        yield "load was gone before the hold was over"


def _was_gone(pulled: Sequence[PullReading], load_kn: Decimal, said_s: Decimal) -> bool:
    """Tell whether readings show that no stretch at the load can have lasted so long."""
    longest = [_to_the_drop(pulled, it) for it in _stretches(pulled, load_kn)]
    return bool(longest) and all(it is not None and it < said_s for it in longest)


def _to_the_drop(pulled: Sequence[PullReading], stretch: tuple[int, int]) -> Decimal | None:
    """Give the time from the load's first reading to the first one below it; None: not known."""
    first, last = stretch
    return _seconds(pulled, (first, last + 1)) if last + 1 < len(pulled) else None


def _faults(hold: Hold | None, hold_min: int, slip_at_most_mm: Decimal) -> Iterator[Fault]:
    if hold is None:
        yield "load not reached"
        return
    if hold.held_s is None and hold_min:
        yield "not known how long it was held"
    if hold.held_s is not None and hold.held_s < hold_min * _SECONDS:
        yield "held too short"
    if hold.slip_mm > slip_at_most_mm:
        yield "slip too large"


def _stretches(pulled: Sequence[PullReading], load_kn: Decimal) -> Iterator[tuple[int, int]]:
    """Give the first and last reading of each unbroken row of readings at or above the load."""
    first = None
    for n, reading in enumerate(pulled):
        at_load = rounded(reading.load_kn, STEP_KN) >= load_kn
        if at_load and first is None:
            first = n
        if not at_load and first is not None:
            yield first, n - 1
            first = None
    if first is not None:
        yield first, len(pulled) - 1


def _seconds(pulled: Sequence[PullReading], stretch: tuple[int, int]) -> Decimal | None:
    began, ended = (pulled[n].after_s for n in stretch)
    return None if began is None or ended is None else ended - began


def _on_the_way_up(pulled: Sequence[PullReading]) -> Iterator[tuple[Decimal, Decimal]]:
    """Give displacement and load of the readings before the peak that are taken to be elastic."""
    loads = [it.load_kn for it in pulled]
    top = max(loads, default=Decimal(0))
    low, high = (share * top for share in ELASTIC)
    for reading in pulled[: loads.index(top) if loads else 0]:
        if low <= reading.load_kn <= high:
            yield reading.displacement_mm, reading.load_kn
