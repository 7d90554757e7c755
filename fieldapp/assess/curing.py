"""When bolts and shotcrete may be counted on: by time and by strength, the later of both."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from decimal import Decimal


@dataclass(frozen=True)
class StrengthReading:
    """A strength that was measured, and when. [MPa]."""

    at: datetime
    strength_mpa: Decimal


@dataclass(frozen=True)
class Cured:
    """When it will have cured by time, when it was shown by strength, and the later of both.

    `at` is None as long as a demanded strength has not been shown, or the work has no end yet.
    """

    by_time_at: datetime | None
    by_strength_at: datetime | None
    at: datetime | None

    def is_cured(self, as_at: datetime) -> bool:
        """Say whether it may be counted on at a time."""
        return self.at is not None and self.at <= as_at


def cured(
    finished_at: datetime | None,
    after_h: Decimal,
    least_mpa: Decimal | None,
    readings: Sequence[StrengthReading] = (),
) -> Cured:
    """Find when something has cured.

    Parameters
    ----------
    finished_at : datetime or None
        When the last of it was placed; None if nobody said. [UTC]
    after_h : Decimal
        Time that the standard demands. [h]
    least_mpa : Decimal or None
        Strength that the standard demands; None if time alone decides. [MPa]
    readings : sequence of StrengthReading
        Strengths measured. [MPa]

    Returns
    -------
    Cured
        By time, by strength, and the later of both. [UTC]

    Source
    ------
    Common practice, no source. Nothing is read between or beyond readings: shown is what was
    measured and not contradicted by a later reading.
    """
    by_time = None if finished_at is None else finished_at + _hours(after_h)
    if least_mpa is None:
        return Cured(by_time, None, by_time)
    by_strength = _shown_at(least_mpa, readings)
    if by_time is None or by_strength is None:
        return Cured(by_time, by_strength, None)
    return Cured(by_time, by_strength, max(by_time, by_strength))


def _shown_at(least_mpa: Decimal, readings: Sequence[StrengthReading]) -> datetime | None:
    shown: datetime | None = None
    for reading in sorted(readings, key=lambda r: (r.at, r.strength_mpa)):
        if reading.strength_mpa < least_mpa:
            shown = None
        elif shown is None:
            shown = reading.at
    return shown


def _hours(hours: Decimal) -> timedelta:
    return timedelta(seconds=float(hours * 3600))
