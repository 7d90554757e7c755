"""Looking at what has no end: how many good ones in a row show that few are bad."""

from decimal import Decimal
from fractions import Fraction
from math import comb


def looks_at_a_process(bad_share: Decimal, confidence: Decimal, found: int = 0) -> int:
    """Say how many to look at so that so few found mean that the bad share is smaller.

    Parameters
    ----------
    bad_share : Decimal
        The share that must not be there, above 0. [-]
    confidence : Decimal
        One-sided, below 1. [-]
    found : int
        How many bad ones are let pass. [-]

    Returns
    -------
    int
        The fewest. Of a known number fewer do: `looks_needed`. [-]

    Source
    ------
    Binomial demonstration test; with none let pass the success-run theorem,
    n = ⌈ln(1 − C)/ln(R)⌉ with R = 1 − bad share.
    """
    bad, missed = Fraction(bad_share), 1 - Fraction(confidence)
    few, enough = found, 2 * (found + 1)
    while _chance_of_at_most(found, enough, bad) > missed:
        few, enough = enough, 2 * enough
    while enough - few > 1:
        looks = (few + enough) // 2
        if _chance_of_at_most(found, looks, bad) > missed:
            few = looks
        else:
            enough = looks
    return enough


def _chance_of_at_most(found: int, looks: int, bad: Fraction) -> Fraction:
    good = 1 - bad
    return sum(
        (comb(looks, n) * bad**n * good ** (looks - n) for n in range(found + 1)), Fraction(0)
    )
