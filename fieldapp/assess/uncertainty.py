"""How sure a value is, and what may be decided with it.

JCGM 100:2008 (GUM) for the uncertainty, JCGM 106:2012 for the decision with a guard band.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from statistics import NormalDist
from typing import Literal

Sense = Literal["at most", "at least"]


class Answer(StrEnum):
    """What the reading says about the limit."""

    WITHIN = "within"
    STRADDLES = "straddles"
    BEYOND = "beyond"


@dataclass(frozen=True)
class Decision:
    """The answer, and how much room there is to the limit, beside its uncertainty."""

    answer: Answer
    room: Decimal
    u: Decimal

    @property
    def conformance(self) -> float:
        """How likely the true value is within the limit, 0 to 1."""
        return conformance_probability(0.0, float(self.room), "at most", float(self.u))


def combined_uncertainty(contributions: Sequence[tuple[float, float]]) -> float:
    """Combine standard uncertainties that have nothing to do with each other.

    Parameters
    ----------
    contributions : sequence of (sensitivity, standard uncertainty)
        How much the result changes with each input, and how sure the input is. [any]

    Returns
    -------
    float
        Combined standard uncertainty. [unit of the result]

    Source
    ------
    JCGM 100:2008, 5.1.2, equation (10).
    """
    return math.hypot(*(sensitivity * u for sensitivity, u in contributions))


def conformance_probability(measured: float, limit: float, sense: Sense, u: float) -> float:
    """Say how likely the true value is within a one-sided limit.

    Parameters
    ----------
    measured : float
        The best estimate. [any]
    limit : float
        The limit. [same unit]
    sense : Sense
        "at most" or "at least". [-]
    u : float
        Standard uncertainty; 0 makes it certain. [same unit]

    Returns
    -------
    float
        0 to 1. [-]

    Source
    ------
    JCGM 106:2012, 7.3 (normal distribution, little prior knowledge).
    """
    room = limit - measured if sense == "at most" else measured - limit
    if u == 0:
        return 1.0 if room >= 0 else 0.0
    return NormalDist().cdf(room / u)


def decide(
    measured: Decimal,
    limit: Decimal,
    sense: Sense,
    u: Decimal,
    guard_factor: Decimal,
    *,
    again: bool,
) -> Decision:
    """Decide on a reading with a guard band on both sides of its limit.

    Parameters
    ----------
    measured : Decimal
        The governing value, rounded to its step. [any]
    limit : Decimal
        The limit; exactly at it is within. [same unit]
    sense : Sense
        "at most" or "at least". [-]
    u : Decimal
        Standard uncertainty of the value. [same unit]
    guard_factor : Decimal
        k in limit ± k·u. [-]
    again : bool
        The value was measured again by a better method: a straddle is a breach now. [-]

    Returns
    -------
    Decision
        Within, straddles or beyond, and the conformance probability. [-]

    Source
    ------
    JCGM 106:2012, 8.3.2 (guarded acceptance) and 8.3.3 (guarded rejection); that a straddle
    happens once is common practice, no source.
    """
    room = limit - measured if sense == "at most" else measured - limit
    guard = guard_factor * u
    if room >= guard:
        return Decision(Answer.WITHIN, room, u)
    if room < -guard or again:
        return Decision(Answer.BEYOND, room, u)
    return Decision(Answer.STRADDLES, room, u)
