"""Dated thicknesses of one piece of steel: which of them can be, and how fast it rusts."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from math import hypot
from statistics import NormalDist
from typing import Final

from fieldapp.assess.corrosion.atmosphere import corrosivity
from fieldapp.assess.corrosion.residual import BOTH, lost_um
from fieldapp.assess.statistics.interval import Interval
from fieldapp.assess.statistics.trend import Dated, NoTimeBetween, Slopes, slopes, years_between
from fieldapp.assess.times import time_words
from schemas.corrosion_rules import Corrosivity, Steel
from schemas.numbers import rounded
from schemas.trouble import BadInput

CONFIDENCE: Final = Decimal("0.95")
BEYOND_DOUBT: Final = 2
"""Standard uncertainties by which a reading must differ from what was new to differ at all."""
_STEP_UM_PER_YEAR: Final = Decimal("0.1")


@dataclass(frozen=True)
class Piece:
    """One piece of steel at one place, as it was put up."""

    steel: Steel
    new_mm: Decimal
    """Diameter of a bar or wire, wall of a tube, thickness of a plate."""
    put_up_at: datetime | None
    """None: nobody knows."""
    zinc_um: Decimal = Decimal(0)
    """On each surface when it was new."""
    surfaces: int = BOTH
    """How many of a tube's or plate's surfaces rust."""


@dataclass(frozen=True)
class Thickness:
    """A diameter or thickness that was read."""

    at: datetime
    left_mm: Decimal
    u_mm: Decimal
    """Standard uncertainty."""
    zinc_gone: bool = False
    """Whether it was looked for and no zinc was there any more."""


@dataclass(eq=False)
class ThickerThanNew(BadInput):
    """Steel does not grow."""

    read_mm: Decimal
    new_mm: Decimal
    happened = "{read_mm} mm was read where {new_mm} mm was put up; steel does not grow."
    kept = "The reading is kept, and counts for nothing."
    do_next = "Clean off the scale and read again, or put right what the piece was when new."


@dataclass(eq=False)
class ReadBeforePutUp(BadInput):
    """A reading from before the piece was there."""

    read_at: str
    put_up_at: str
    happened = "A reading of {read_at} is older than the support: it was put up {put_up_at}."
    kept = "The reading is kept, and counts for nothing."
    do_next = "Put right the date of the reading, or of the support."


@dataclass(frozen=True)
class Rate:
    """What each surface loses in a year [µm], by dated readings."""

    um_per_year: Decimal
    interval: Interval | None
    """At 95 %; None: too few dates for it, and nobody said how sure the readings are."""
    readings: int
    corrosivity: Corrosivity | None
    """The category of air in whose first year steel goes as fast; None: in none."""


def usable(
    piece: Piece, readings: Sequence[Thickness]
) -> tuple[tuple[Thickness, ...], tuple[ThickerThanNew | ReadBeforePutUp, ...]]:
    """Part the readings that can be from those that can't.

    Parameters
    ----------
    piece : Piece
        As it was put up. [mm]
    readings : sequence of Thickness
        In any order. [mm]

    Returns
    -------
    (tuple of Thickness, tuple of Trouble)
        Those that count, and why each of the others does not. [mm]

    Source
    ------
    Common practice, no source: beyond two standard uncertainties a reading is wrong.
    """
    troubles = [(it, _trouble(piece, it)) for it in readings]
    good = tuple(it for it, trouble in troubles if trouble is None)
    return good, tuple(trouble for _, trouble in troubles if trouble is not None)


def rate_of(piece: Piece, readings: Sequence[Thickness]) -> Rate | NoTimeBetween:
    """Give how fast each surface of a piece rusts.

    Parameters
    ----------
    piece : Piece
        As it was put up. [mm]
    readings : sequence of Thickness
        Those that can be, in any order. [mm]

    Returns
    -------
    Rate or NoTimeBetween
        Its interval holds that of the readings' scatter and that of their doubt, and where there
        are fewer than five dates, the slopes of all pairs. [µm/year]

    Source
    ------
    Theil (1950), Sen (1968), see `fieldapp.assess.statistics.trend`; JCGM 100:2008, equation
    (10), for the doubt of the first and last reading; that both intervals count is common
    practice, no source.
    """
    losses = [
        Dated(it.at, lost_um(piece.steel, piece.new_mm, it.left_mm, piece.surfaces))
        for it in readings
    ]
    found = slopes(losses, CONFIDENCE)
    if isinstance(found, NoTimeBetween):
        return found
    half = _doubt_of_slope(piece, readings)
    known = found.holds or half > 0
    return Rate(
        um_per_year=rounded(found.median, _STEP_UM_PER_YEAR),
        interval=_hull(found, half) if known else None,
        readings=len(readings),
        corrosivity=corrosivity("steel", max(0.0, found.median)),
    )


def _trouble(piece: Piece, reading: Thickness) -> ThickerThanNew | ReadBeforePutUp | None:
    if piece.put_up_at is not None and reading.at < piece.put_up_at:
        return ReadBeforePutUp(time_words(reading.at), time_words(piece.put_up_at))
    if reading.left_mm - piece.new_mm > BEYOND_DOUBT * reading.u_mm:
        return ThickerThanNew(reading.left_mm, piece.new_mm)
    return None


def _doubt_of_slope(piece: Piece, readings: Sequence[Thickness]) -> float:
    """Give half of the interval that the doubt of the first and last reading leaves."""
    first, last = min(it.at for it in readings), max(it.at for it in readings)
    ends = (max(it.u_mm for it in readings if it.at == end) for end in (first, last))
    in_um = (lost_um(piece.steel, it, Decimal(0), piece.surfaces) for it in ends)
    z = NormalDist().inv_cdf(float((1 + CONFIDENCE) / 2))
    return z * hypot(*map(float, in_um)) / years_between(first, last)


def _hull(found: Slopes, half: float) -> Interval:
    low, high = min(found.low, found.median - half), max(found.high, found.median + half)
    return Interval(rounded(low, _STEP_UM_PER_YEAR), rounded(high, _STEP_UM_PER_YEAR))
