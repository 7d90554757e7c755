"""How large a share may be, when some of several tests failed.

Of a process without end: for a known number of bolts see `fieldapp.assess.sampling`.
"""

from decimal import Decimal
from math import sqrt
from statistics import NormalDist

from fieldapp.assess.statistics.interval import Interval
from schemas.numbers import STEP_SHARE, rounded


def clopper_pearson(bad: int, tested: int, confidence: Decimal) -> Interval:
    """Give the exact interval of a share, two-sided.

    Parameters
    ----------
    bad : int
        How many failed. [-]
    tested : int
        How many were tested, at least one. [-]
    confidence : Decimal
        Two-sided, below 1. None of 59 reaches to 6.1 % at 95 %. [-]

    Returns
    -------
    Interval
        It holds the true share at least so often. [share, 0 to 1]

    Source
    ------
    Clopper & Pearson (1934); NIST/SEMATECH e-Handbook, 7.2.4.1.
    """
    from scipy.special import betaincinv

    missed = float((1 - confidence) / 2)
    low = betaincinv(bad, tested - bad + 1, missed) if bad else 0.0
    high = betaincinv(bad + 1, tested - bad, 1 - missed) if bad < tested else 1.0
    return _interval(float(low), float(high))


def wilson(bad: int, tested: int, confidence: Decimal) -> Interval:
    """Give the score interval of a share, two-sided: shorter, and right on the average only.

    Parameters
    ----------
    bad : int
        How many failed. [-]
    tested : int
        How many were tested, at least one. [-]
    confidence : Decimal
        Two-sided, below 1. [-]

    Returns
    -------
    Interval
        About so often it holds the true share. [share, 0 to 1]

    Source
    ------
    Wilson (1927); Newcombe (1998), method 3.
    """
    z = NormalDist().inv_cdf(float((1 + confidence) / 2))
    share = bad / tested
    middle = share + z * z / (2 * tested)
    half = z * sqrt(share * (1 - share) / tested + (z / (2 * tested)) ** 2)
    whole = 1 + z * z / tested
    return _interval((middle - half) / whole, (middle + half) / whole)


def _interval(low: float, high: float) -> Interval:
    return Interval(rounded(low, STEP_SHARE), rounded(high, STEP_SHARE))
