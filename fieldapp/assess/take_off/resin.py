"""How much resin fills a hole around its bar, in capsules as they are bought."""

import math
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from schemas.numbers import STEP_M, STEP_SHARE, rounded
from schemas.standard import BoltType


@dataclass(frozen=True)
class Hole:
    """A hole, the bar in it, and the capsules that fill the rest [mm]."""

    hole_mm: Decimal
    bar_mm: Decimal
    capsule_mm: Decimal

    def __post_init__(self) -> None:
        if not 0 < self.bar_mm < self.hole_mm or not 0 < self.capsule_mm <= self.hole_mm:
            raise ValueError(f"no capsule fills {self}")

    @property
    def annulus_mm2(self) -> Fraction:
        """What resin fills around the bar, in squares of diameters [mm²]."""
        return Fraction(self.hole_mm) ** 2 - Fraction(self.bar_mm) ** 2


@dataclass(frozen=True)
class ResinOfBolt:
    """The resin of one bolt of a type."""

    bolt_type: str
    filled_m: Decimal
    """So much of the hole is to be filled."""
    capsule_m: Decimal
    """Length of capsule that just fills it."""
    capsules: int
    """Whole capsules."""
    fills_share: Decimal
    """What those fill of it: more than 1 where the last capsule isn't needed whole."""


def capsule_m(filled_m: Decimal, hole: Hole) -> Decimal:
    """Give the length of capsule that fills a hole around its bar.

    Parameters
    ----------
    filled_m : Decimal
        How much of the hole is to be filled. [m]
    hole : Hole
        Hole, bar and capsule. [mm]

    Returns
    -------
    Decimal
        L·(Dh² − Db²)/Dc². [m]

    Source
    ------
    Geometry: the volume of a ring is that of the capsule.
    """
    length = Fraction(filled_m) * hole.annulus_mm2 / Fraction(hole.capsule_mm) ** 2
    return _decimal(length, STEP_M)


def filled_share(capsules_m: Decimal, filled_m: Decimal, hole: Hole) -> Decimal:
    """Give which share of a length of hole capsules fill.

    Parameters
    ----------
    capsules_m : Decimal
        Length of all capsules together. [m]
    filled_m : Decimal
        The length to be filled. [m]
    hole : Hole
        Hole, bar and capsule. [mm]

    Returns
    -------
    Decimal
        Below 1 where a hole was drilled too wide for its capsules. [-]

    Source
    ------
    Geometry: the volume of a ring is that of the capsule.
    """
    volume = Fraction(capsules_m) * Fraction(hole.capsule_mm) ** 2
    return _decimal(volume / (Fraction(filled_m) * hole.annulus_mm2), STEP_SHARE)


def resin_of_bolt(bolt: BoltType) -> ResinOfBolt | None:
    """Give the resin of one bolt.

    Parameters
    ----------
    bolt : BoltType
        As the standard has it. [various]

    Returns
    -------
    ResinOfBolt or None
        None where the standard doesn't state hole, bar and capsule, or ones that don't go into
        one another, which its check refuses. [various]

    Source
    ------
    Common practice, no source: a capsule that is begun is a capsule.
    """
    hole = _hole(bolt)
    filled_m = bolt.length_m if bolt.resin_m is None else bolt.resin_m
    if hole is None or not bolt.capsule_length_m or not filled_m:
        return None
    needed_m = capsule_m(filled_m, hole)
    capsules = math.ceil(Fraction(needed_m) / Fraction(bolt.capsule_length_m))
    share = filled_share(capsules * bolt.capsule_length_m, filled_m, hole)
    return ResinOfBolt(bolt.code, filled_m, needed_m, capsules, share)


def _hole(bolt: BoltType) -> Hole | None:
    if bolt.hole_mm is None or bolt.bar_mm is None or bolt.capsule_mm is None:
        return None
    if not 0 < bolt.bar_mm < bolt.hole_mm or not 0 < bolt.capsule_mm <= bolt.hole_mm:
        return None
    return Hole(bolt.hole_mm, bolt.bar_mm, bolt.capsule_mm)


def _decimal(value: Fraction, step: Decimal) -> Decimal:
    return rounded(Decimal(value.numerator) / Decimal(value.denominator), step)
