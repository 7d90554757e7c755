from datetime import UTC, datetime, timedelta
from decimal import Decimal

from fieldapp.assess.curing import StrengthReading, cured

NOON = datetime(2031, 5, 4, 12, tzinfo=UTC)


def reading(hours: float, strength: str) -> StrengthReading:
    return StrengthReading(NOON + timedelta(hours=hours), Decimal(strength))


def test_time_alone() -> None:
    by_time = cured(NOON, Decimal(8), None)

    assert by_time.at == NOON + timedelta(hours=8)
    assert not by_time.is_cured(NOON + timedelta(hours=7, minutes=59))
    assert by_time.is_cured(NOON + timedelta(hours=8))


def test_nobody_said_when_it_was_finished() -> None:
    assert not cured(None, Decimal(0), None).is_cured(NOON)


def test_a_strength_that_was_never_measured_is_not_shown() -> None:
    assert cured(NOON, Decimal(2), Decimal(1)).at is None


def test_the_later_of_both() -> None:
    early = cured(NOON, Decimal(4), Decimal(1), [reading(2, "1.2")])
    late = cured(NOON, Decimal(1), Decimal(1), [reading(2, "1.2")])

    assert early.at == NOON + timedelta(hours=4)
    assert late.at == NOON + timedelta(hours=2)


def test_the_first_reading_that_reaches_it_counts() -> None:
    readings = [reading(3, "1.4"), reading(1, "0.6"), reading(2, "1.0")]

    assert cured(NOON, Decimal(1), Decimal(1), readings).by_strength_at == NOON + timedelta(
        hours=2
    )


def test_a_lower_reading_afterwards_takes_it_back() -> None:
    readings = [reading(1, "1.1"), reading(2, "0.9")]

    assert cured(NOON, Decimal(1), Decimal(1), readings).at is None
