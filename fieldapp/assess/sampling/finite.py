"""Looking at some of a known number: the bolts of a drive, the bays of a section.

All chances are exact fractions. Small numbers lie right on the edge (20 bolts, one of them bad,
19 looked at: exactly 1 in 20), and a rounding error would ask for one look more.
"""

from decimal import Decimal
from fractions import Fraction
from math import ceil, comb


def chance_of_at_most(found: int, looked_at: int, bad: int, of: int) -> Fraction:
    """Say how likely so few bad ones are found, if so many are there.

    Parameters
    ----------
    found : int
        Bad ones found, or fewer. [-]
    looked_at : int
        How many are looked at, drawn at random. [-]
    bad : int
        How many are bad in truth. [-]
    of : int
        How many there are. [-]

    Returns
    -------
    Fraction
        0 to 1, exact. [-]

    Source
    ------
    Hypergeometric distribution; ISO 2859-1:1999 calls it type A.
    """
    ways = sum(
        comb(bad, n) * comb(of - bad, looked_at - n) for n in range(_up_to(found, looked_at))
    )
    return Fraction(ways, comb(of, looked_at))


def looks_needed(of: int, bad_share: Decimal, confidence: Decimal) -> int:
    """Say how many to look at so that "none found" means that the bad share is smaller.

    Parameters
    ----------
    of : int
        How many there are. [-]
    bad_share : Decimal
        The share that must not be there, above 0. [-]
    confidence : Decimal
        How surely it would be noticed, below 1. [-]

    Returns
    -------
    int
        The fewest; all of them where nothing less will do. [-]

    Source
    ------
    Hypergeometric distribution: with that share bad, or the next whole number above it, none is
    found at most once in 1/(1 − confidence) times.
    """
    bad = max(1, ceil(Fraction(bad_share) * of))
    missed = 1 - Fraction(confidence)
    few, enough = 0, of
    while few < enough:
        looks = (few + enough) // 2
        if chance_of_at_most(0, looks, min(bad, of), of) <= missed:
            enough = looks
        else:
            few = looks + 1
    return enough


def most_bad(of: int, looked_at: int, found: int, confidence: Decimal) -> int:
    """Say how many may be bad at most, after some were found among those looked at.

    Parameters
    ----------
    of : int
        How many there are. [-]
    looked_at : int
        How many were looked at, drawn at random. [-]
    found : int
        How many of them were bad; what could not be reached counts as bad. [-]
    confidence : Decimal
        One-sided, below 1. [-]

    Returns
    -------
    int
        The largest number bad with which so few are found more often than 1 − confidence; those
        found are among them. [-]

    Source
    ------
    Exact inversion of the hypergeometric distribution, one-sided.
    """
    missed = 1 - Fraction(confidence)
    surely, too_many = found, of - looked_at + found + 1
    while too_many - surely > 1:
        bad = (surely + too_many) // 2
        if chance_of_at_most(found, looked_at, bad, of) > missed:
            surely = bad
        else:
            too_many = bad
    return surely


def _up_to(found: int, looked_at: int) -> int:
    return min(found, looked_at) + 1
