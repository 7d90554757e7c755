"""What is left of a piece of steel now, and for how long it is enough.

What is left is the lower of what was read and what its age comes to: the hidden part may be
worse than the visible one. Zinc goes first, then steel. The standard's rate counts until readings
rule it out, and readings taken while zinc is there tell nothing of steel.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from typing import Final, Literal

from fieldapp.assess.corrosion.enough import Enough, enough_left
from fieldapp.assess.corrosion.readings import (
    BEYOND_DOUBT,
    Piece,
    Rate,
    ReadBeforePutUp,
    ThickerThanNew,
    Thickness,
    rate_of,
    usable,
)
from fieldapp.assess.corrosion.residual import (
    left_after_mm,
    lost_um,
    share_doubt,
    share_left,
    thinnest_mm,
)
from fieldapp.assess.statistics.trend import years_between
from schemas.corrosion_rules import CorrosionRate
from schemas.numbers import rounded

Governs = Literal["what was read", "its age"]

_STEP_YEARS: Final = Decimal("0.1")
_STEP_PERCENT: Final = Decimal("0.1")
_ZERO: Final = Decimal(0)


@dataclass(frozen=True)
class Place:
    """What counts at the place, and between which two looks."""

    share_at_least: Decimal
    """Of its capacity, by the standard."""
    expected: CorrosionRate | None
    """The standard's rates of the place; None: nobody said."""
    as_at: datetime
    next_walk_at: datetime | None = None


@dataclass(frozen=True)
class Lasts:
    """In how many years it falls below what must be left. None: never at that rate."""

    years: Decimal | None
    earliest: Decimal | None
    """At the fast end of the rate's interval."""
    latest: Decimal | None
    has_fallen: bool = False
    """Whether less is left already; a few days may be left where all years come to 0."""

    @property
    def words(self) -> str:
        """As it is said: "enough for 11.6 to 15.3 years"."""
        if self.has_fallen:
            return "already less than must be left"
        if self.earliest is None:
            return "at this rate it lasts"
        if self.latest == 0:
            return f"enough for less than {_STEP_YEARS} years"
        if self.latest is None:
            return f"enough for {self.earliest} years or more"
        if self.latest == self.earliest:
            return f"enough for {self.latest} years"
        return f"enough for {self.earliest} to {self.latest} years"


@dataclass(frozen=True)
class SteelJudged:
    """What is left of a piece at most, and for how long it is enough. None: not known."""

    read_share: Decimal | None
    """By the latest reading, the thinnest of its date."""
    read_doubt: Decimal | None
    """Standard uncertainty of that share."""
    share: Decimal | None
    """At the time that was asked for: at most so much, the lower of reading and age."""
    governs: Governs | None
    rate: Rate | None
    """By dated readings; None: fewer than two dates."""
    usual: CorrosionRate | None
    """The standard's, where years go by it: nothing was read of bare steel that rules it out."""
    lasts: Lasts | None
    """None: enough is left, and no rate is known, neither read nor expected."""
    may_fall_before_next_walk: bool | None
    refused: tuple[ThickerThanNew | ReadBeforePutUp, ...]
    read_leaves: Enough | None = None
    """What the latest reading leaves of what must be left, with its doubt."""

    @property
    def words(self) -> str:
        """As it is said: "at most 91.1 % left, by its age; enough for 13.2 years"."""
        if self.share is None:
            return "not known what is left"
        percent = rounded(self.share * 100, _STEP_PERCENT).normalize()
        left = ", ".join((f"at most {percent:f} % left", f"by {self.governs}"))
        words = "no rate is known" if self.lasts is None else self.lasts.words
        return "; ".join((left, words))


@dataclass(frozen=True)
class _Loss:
    """What each surface of steel loses a year [µm], and when its zinc is gone."""

    usual: CorrosionRate | None
    """The standard's, where it counts."""

    um: Decimal
    fast_um: Decimal
    slow_um: Decimal
    zinc_years: Decimal | None
    """From when it was put up; None: zinc lasts for ever."""
    is_measured: bool

    def steel_years(self, put_up_at: datetime | None, first: datetime, then: datetime) -> Decimal:
        """Give the time between two moments in which steel rusted."""
        bare = Decimal(0)
        if put_up_at is not None and self.zinc_years is not None:
            bare = self.zinc_years - _years_between(put_up_at, first)
        if put_up_at is not None and self.zinc_years is None:
            return _ZERO
        return max(_ZERO, _years_between(first, then) - max(_ZERO, bare))


def judged(piece: Piece, readings: Sequence[Thickness], place: Place) -> SteelJudged:
    """Judge one piece of steel.

    Parameters
    ----------
    piece : Piece
        As it was put up. [mm, µm]
    readings : sequence of Thickness
        Of this piece, in any order. [mm]
    place : Place
        What must be left, the standard's rates, and the times. [shares, µm/year]

    Returns
    -------
    SteelJudged
        Of the visible part: at most so much is left of the whole. [shares, years]

    Source
    ------
    Common practice, no source: the lower of what is seen and rate × age, zinc before steel, both
    in a straight line, which in air is the faster one (ISO 9224:2012). Rates of readings: see
    `rate_of`.
    """
    good, refused = usable(piece, readings)
    measured = rate_of(piece, good)
    rate = measured if isinstance(measured, Rate) else None
    loss = _loss(piece, good, rate, place.expected)
    read = max(good, key=lambda it: (it.at, -it.left_mm), default=None)
    by_age_mm = _by_age(piece, loss, place.as_at)
    now_mm = _since_read(piece, read, loss, place.as_at) if read else by_age_mm
    governs: Governs | None = None if now_mm is None else "what was read" if read else "its age"
    if now_mm is not None and by_age_mm is not None and by_age_mm < now_mm:
        now_mm, governs = by_age_mm, "its age"
    lasts = None if now_mm is None else _lasts(piece, now_mm, loss, place)
    return SteelJudged(
        read_share=share_left(piece.steel, piece.new_mm, read.left_mm) if read else None,
        read_doubt=_doubt(piece, read) if read else None,
        share=None if now_mm is None else share_left(piece.steel, piece.new_mm, now_mm),
        governs=governs,
        rate=rate,
        usual=None if loss is None or now_mm is None else loss.usual,
        lasts=None if lasts is None else _written(lasts),
        may_fall_before_next_walk=None if lasts is None else _may_fall(lasts, place),
        refused=refused,
        read_leaves=_leaves(piece, read, place) if read else None,
    )


def _loss(
    piece: Piece, good: Sequence[Thickness], rate: Rate | None, expected: CorrosionRate | None
) -> _Loss | None:
    """Take what was measured of steel, and what is expected unless that rules it out."""
    bare_at = min((it.at for it in good if _is_bare(piece, it)), default=None)
    zinc = _zinc_years(piece, expected, bare_at)
    usual = None if expected is None else expected.steel_um_per_year
    if rate is None or (piece.zinc_um and bare_at is None):
        if usual is None:
            return None
        return _Loss(expected, usual, usual, usual, zinc, is_measured=False)
    low = max(_ZERO, rate.interval.low if rate.interval else rate.um_per_year)
    high = max(_ZERO, rate.interval.high if rate.interval else rate.um_per_year)
    um = max(_ZERO, rate.um_per_year)
    counts = usual is not None and usual > um and (rate.interval is None or usual <= high)
    um = usual if usual is not None and counts else um
    return _Loss(expected if counts else None, um, max(um, high), low, zinc, is_measured=True)


def _is_bare(piece: Piece, reading: Thickness) -> bool:
    """Whether a reading tells that zinc was gone: it was looked for, or the steel was thinner."""
    return reading.zinc_gone or piece.new_mm - reading.left_mm > BEYOND_DOUBT * reading.u_mm


def _zinc_years(
    piece: Piece, expected: CorrosionRate | None, bare_at: datetime | None
) -> Decimal | None:
    """Say how long zinc lasts: no longer than until a reading told that it was gone.

    Where nobody said how fast it goes, or when it was put up, it counts for nothing.
    """
    if expected is None or piece.put_up_at is None or not piece.zinc_um:
        return _ZERO
    a_year = expected.zinc_um_per_year
    ends = [piece.zinc_um / a_year] if a_year else []
    if bare_at is not None:
        ends.append(_years_between(piece.put_up_at, bare_at))
    return min(ends, default=None)


def _by_age(piece: Piece, loss: _Loss | None, as_at: datetime) -> Decimal | None:
    if loss is None or piece.put_up_at is None:
        return None
    years = loss.steel_years(piece.put_up_at, piece.put_up_at, as_at)
    return left_after_mm(piece.steel, piece.new_mm, loss.um * years, piece.surfaces)


def _since_read(piece: Piece, read: Thickness, loss: _Loss | None, as_at: datetime) -> Decimal:
    """Take from a reading what went since; a measured rate tells that zinc is gone."""
    left_mm = min(read.left_mm, piece.new_mm)
    if loss is None:
        return left_mm
    put_up_at = None if loss.is_measured else piece.put_up_at
    years = loss.steel_years(put_up_at, read.at, as_at)
    return left_after_mm(piece.steel, left_mm, loss.um * years, piece.surfaces)


def _lasts(piece: Piece, now_mm: Decimal, loss: _Loss | None, place: Place) -> Lasts | None:
    least_mm = thinnest_mm(piece.steel, piece.new_mm, place.share_at_least)
    spare_um = lost_um(piece.steel, now_mm, least_mm, piece.surfaces)
    if share_left(piece.steel, piece.new_mm, now_mm) < place.share_at_least or spare_um < 0:
        return Lasts(_ZERO, _ZERO, _ZERO, has_fallen=True)
    if loss is None:
        return None
    zinc = _zinc_still(piece, loss, place.as_at)
    years, earliest, latest = (
        None if um == 0 or zinc is None else zinc + spare_um / um
        for um in (loss.um, loss.fast_um, loss.slow_um)
    )
    return Lasts(years, earliest, latest)


def _zinc_still(piece: Piece, loss: _Loss, as_at: datetime) -> Decimal | None:
    """Say for how long zinc still keeps the steel; None: for ever."""
    if loss.is_measured or piece.put_up_at is None:
        return _ZERO
    if loss.zinc_years is None:
        return None
    return max(_ZERO, loss.zinc_years - _years_between(piece.put_up_at, as_at))


def _may_fall(lasts: Lasts, place: Place) -> bool | None:
    if place.next_walk_at is None:
        return None
    until = _years_between(place.as_at, place.next_walk_at)
    return lasts.earliest is not None and lasts.earliest <= until


def _written(lasts: Lasts) -> Lasts:
    ends = (lasts.years, lasts.earliest, lasts.latest)
    years, earliest, latest = (None if it is None else rounded(it, _STEP_YEARS) for it in ends)
    return Lasts(years, earliest, latest, lasts.has_fallen)


def _leaves(piece: Piece, read: Thickness, place: Place) -> Enough:
    least = place.share_at_least
    return enough_left(piece.steel, piece.new_mm, read.left_mm, read.u_mm, least)


def _doubt(piece: Piece, read: Thickness) -> Decimal:
    return share_doubt(piece.steel, piece.new_mm, read.left_mm, read.u_mm)


def _years_between(first: datetime, then: datetime) -> Decimal:
    return max(_ZERO, Decimal(repr(years_between(first, then))))
