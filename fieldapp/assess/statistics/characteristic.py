"""The load that 95 of 100 bolts reach, from a few that were pulled: the characteristic value.

The mean less 1.645 times the spread is none: it takes the spread of a few for the spread of all.
Both rules here make up for how few there were, and with too few they give no value.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from math import exp, log, sqrt
from statistics import NormalDist, fmean, stdev
from typing import Final, Literal

from schemas.numbers import STEP_KN, rounded
from schemas.trouble import BadInput

Distribution = Literal["normal", "lognormal"]

BELOW: Final = 0.05
"""The share of bolts that may carry less than the characteristic value."""
FEWEST: Final = 3
"""With two, one rule has no factor and the other's is 26."""
LEAST_VARIATION: Final = Decimal("0.10")
"""Taken where fewer than all are known and they scatter less."""
_STEP_FACTOR: Final = Decimal("0.001")
_ABOVE = NormalDist().inv_cdf(1 - BELOW)


@dataclass(eq=False)
class TooFewTests(BadInput):
    """So few tests tell nothing of the weakest bolts."""

    tests: int
    at_least: int
    happened = "{tests} tests are too few for a characteristic value."
    kept = "The tests stand as they are; their mean says nothing of the weakest bolts."
    do_next = "Pull more bolts in the same ground, at least {at_least} in all."


@dataclass(eq=False)
class NothingHeld(BadInput):
    """A load of nothing has no logarithm."""

    tests: int
    happened = "Of {tests} tests at least one held no load, which no lognormal spread allows."
    kept = "The tests stand as they are."
    do_next = "Ask for the characteristic value with a normal spread."


@dataclass(frozen=True)
class Characteristic:
    """The characteristic value [kN], and from what it follows."""

    value_kn: Decimal
    mean_kn: Decimal
    tests: int
    factor: Decimal
    """How many standard deviations below the mean."""
    rule: str


def k_n(tests: int, *, v_known: bool) -> float:
    """Give the factor of EN 1990 for the 5 % fractile.

    Parameters
    ----------
    tests : int
        How many; at least 3 where the variation isn't known beforehand, else 1. [-]
    v_known : bool
        The coefficient of variation is known beforehand, from many tests. [-]

    Returns
    -------
    float
        k_n; the table prints it up to 0.016 smaller. [-]

    Source
    ------
    EN 1990:2002, annex D, D7.2: 1.645·√(1 + 1/n), and Student's t with n − 1 degrees of freedom
    in place of 1.645 where the variation is not known. The formula, not the printed table D1.
    """
    from scipy.special import stdtrit

    fractile = _ABOVE if v_known else float(stdtrit(tests - 1, 1 - BELOW))
    return fractile * sqrt(1 + 1 / tests)


def tolerance_factor(tests: int, confidence: Decimal, *, sigma_known: bool = False) -> float:
    """Give the one-sided factor of ISO 16269-6 for a share of 95 %.

    Parameters
    ----------
    tests : int
        How many; at least 2 where the standard deviation isn't known beforehand. [-]
    confidence : Decimal
        That 95 % of all lie above, below 1. [-]
    sigma_known : bool
        The standard deviation is known beforehand. [-]

    Returns
    -------
    float
        k. [-]

    Source
    ------
    ISO 16269-6:2014, one-sided: non-central Student's t with n − 1 degrees of freedom and
    non-centrality 1.645·√n; 1.645 + z/√n where the standard deviation is known.
    """
    if sigma_known:
        return _ABOVE + NormalDist().inv_cdf(float(confidence)) / sqrt(tests)
    from scipy.special import nctdtrit

    return float(nctdtrit(tests - 1, _ABOVE * sqrt(tests), float(confidence))) / sqrt(tests)


def by_en_1990(
    loads_kn: Sequence[Decimal],
    distribution: Distribution,
    v_known: Decimal | None = None,
    least_v: Decimal = LEAST_VARIATION,
) -> Characteristic | TooFewTests | NothingHeld:
    """Give the characteristic load by EN 1990.

    Parameters
    ----------
    loads_kn : sequence of Decimal
        What each bolt of one kind carried in one ground. [kN]
    distribution : Distribution
        How they are taken to be spread. [-]
    v_known : Decimal or None
        The coefficient of variation, where it is known from many tests before. [-]
    least_v : Decimal
        The least coefficient of variation where it isn't. [-]

    Returns
    -------
    Characteristic, TooFewTests or NothingHeld
        Never below 0. [kN]

    Source
    ------
    EN 1990:2002, annex D, D7.1(5) (least variation 0.10; from memory) and D7.2.
    """
    refused = _refused(loads_kn, distribution, FEWEST if v_known is None else 1)
    if refused is not None:
        return refused
    factor = k_n(len(loads_kn), v_known=v_known is not None)
    rule = f"EN 1990, annex D, {distribution}"
    return _value(loads_kn, distribution, factor, _Variation(v_known, least_v), rule)


def by_iso_16269_6(
    loads_kn: Sequence[Decimal], distribution: Distribution, confidence: Decimal
) -> Characteristic | TooFewTests | NothingHeld:
    """Give the load that 95 % exceed, with a confidence.

    Parameters
    ----------
    loads_kn : sequence of Decimal
        What each bolt of one kind carried in one ground. [kN]
    distribution : Distribution
        How they are taken to be spread. [-]
    confidence : Decimal
        Below 1. [-]

    Returns
    -------
    Characteristic, TooFewTests or NothingHeld
        Never below 0. [kN]

    Source
    ------
    ISO 16269-6:2014, one-sided statistical tolerance limit, standard deviation not known.
    """
    refused = _refused(loads_kn, distribution, FEWEST)
    if refused is not None:
        return refused
    factor = tolerance_factor(len(loads_kn), confidence)
    rule = f"ISO 16269-6, {(confidence * 100).normalize():f} % confidence, {distribution}"
    return _value(loads_kn, distribution, factor, _Variation(None, Decimal(0)), rule)


@dataclass(frozen=True)
class _Variation:
    """The coefficient of variation that is known, or the least that is taken."""

    known: Decimal | None
    least: Decimal

    def spread(self, found: float, scale: float) -> float:
        """Give the standard deviation of loads whose mean is the scale."""
        return self._of(found, float(self.least) * scale, float(self.known or 0) * scale)

    def spread_of_logarithms(self, found: float) -> float:
        least, known = (sqrt(log(1 + float(v or 0) ** 2)) for v in (self.least, self.known))
        return self._of(found, least, known)

    def _of(self, found: float, least: float, known: float) -> float:
        return max(found, least) if self.known is None else known


def _refused(
    loads_kn: Sequence[Decimal], distribution: Distribution, at_least: int
) -> TooFewTests | NothingHeld | None:
    if len(loads_kn) < at_least:
        return TooFewTests(len(loads_kn), at_least)
    if distribution == "lognormal" and min(loads_kn) <= 0:
        return NothingHeld(len(loads_kn))
    return None


def _value(
    loads_kn: Sequence[Decimal],
    distribution: Distribution,
    factor: float,
    variation: _Variation,
    rule: str,
) -> Characteristic:
    loads = [float(load) for load in loads_kn]
    mean = fmean(loads)
    if distribution == "normal":
        value = mean - factor * variation.spread(_spread(loads), mean)
    else:
        logarithms = [log(load) for load in loads]
        spread = variation.spread_of_logarithms(_spread(logarithms))
        value = exp(fmean(logarithms) - factor * spread)
    return Characteristic(
        value_kn=rounded(max(0.0, value), STEP_KN),
        mean_kn=rounded(mean, STEP_KN),
        tests=len(loads),
        factor=rounded(factor, _STEP_FACTOR),
        rule=rule,
    )


def _spread(values: Sequence[float]) -> float:
    return stdev(values) if len(values) > 1 else 0.0
