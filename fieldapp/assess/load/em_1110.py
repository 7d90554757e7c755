"""The rules of thumb of USACE EM 1110-1-2907 for length, spacing and pressure.

Reckoned in feet, as they were written: their usual rewriting in metres jumps from 5 to 4.5 m
at a span of 18 m.
"""

from typing import Final

FOOT_M: Final = 0.3048
LEAST_PRESSURE_KPA: Final = 6 * 6.894757
"""6 psi."""

_NARROW_FT: Final = 20.0
_WIDE_FT: Final = 60.0
_WIDEST_SPACING_FT: Final = 6.0


def span_length_m(span_m: float) -> float:
    """Give the least length of bolts for a span alone.

    Parameters
    ----------
    span_m : float
        Width of the drive, above the springline. [m]

    Returns
    -------
    float
        Half of it up to 20 ft, a quarter from 60 ft, between them from 10 to 15 ft. [m]

    Source
    ------
    USACE EM 1110-1-2907, 1980, table 4-1 (from memory).
    """
    span_ft = span_m / FOOT_M
    if span_ft <= _NARROW_FT:
        return span_m / 2
    if span_ft >= _WIDE_FT:
        return span_m / 4
    return (10 + 5 * (span_ft - _NARROW_FT) / (_WIDE_FT - _NARROW_FT)) * FOOT_M


def least_length_m(span_m: float, spacing_m: float, block_m: float) -> float:
    """Give the least length of bolts.

    Parameters
    ----------
    span_m : float
        Width of the drive. [m]
    spacing_m : float
        Of the bolts. [m]
    block_m : float
        Width of the blocks that can come loose; 0 where nobody said. [m]

    Returns
    -------
    float
        The greatest of 2 spacings, 3 blocks and what the span asks. [m]

    Source
    ------
    USACE EM 1110-1-2907, 1980, table 4-1 (from memory).
    """
    return max(2 * spacing_m, 3 * block_m, span_length_m(span_m))


def greatest_spacing_m(length_m: float, block_m: float | None) -> float:
    """Give the greatest spacing of bolts.

    Parameters
    ----------
    length_m : float
        Of the bolts. [m]
    block_m : float or None
        Width of the blocks that can come loose; None where nobody said. [m]

    Returns
    -------
    float
        The least of half the length, 1.5 blocks and 6 ft. [m]

    Source
    ------
    USACE EM 1110-1-2907, 1980, table 4-1 (from memory).
    """
    most = min(length_m / 2, _WIDEST_SPACING_FT * FOOT_M)
    return most if block_m is None else min(most, 1.5 * block_m)


def least_pressure_kpa(span_m: float, unit_weight_kn_m3: float, *, intersection: bool) -> float:
    """Give the least mean pressure that bolts must hold at their yield.

    Parameters
    ----------
    span_m : float
        Width of the drive. [m]
    unit_weight_kn_m3 : float
        Of the rock. [kN/m3]
    intersection : bool
        Twice as much is asked there. [-]

    Returns
    -------
    float
        The greater of rock to 0.20 of the span and 6 psi. [kPa]

    Source
    ------
    USACE EM 1110-1-2907, 1980, table 4-1 (from memory).
    """
    pressure = max(0.20 * span_m * unit_weight_kn_m3, LEAST_PRESSURE_KPA)
    return 2 * pressure if intersection else pressure
