"""A trend needs dates, and its interval needs some more."""

from datetime import UTC, datetime, timedelta
from decimal import Decimal

from fieldapp.assess.interval import Interval
from fieldapp.assess.trend import Dated, NoTimeBetween, Trend, trend

BEGAN = datetime(2031, 5, 6, tzinfo=UTC)


def found(*readings: tuple[float, str]) -> Trend | NoTimeBetween:
    dated = [Dated(BEGAN + timedelta(days=365.25 * at), Decimal(it)) for at, it in readings]
    return trend(dated, Decimal("0.95"), Decimal("0.1"))


def test_two_dates_give_a_rate_without_an_interval() -> None:
    assert found((0, "4"), (2, "9")) == Trend(Decimal("2.5"), None, readings=2)


def test_four_dates_have_no_interval_of_95_percent_and_five_do() -> None:
    line = [(0, "0"), (1, "1"), (2, "2"), (3, "3"), (4, "4")]
    four, five = found(*line[:4]), found(*line)

    assert isinstance(four, Trend)
    assert isinstance(five, Trend)
    assert four.interval is None
    assert five.interval == Interval(Decimal("1.0"), Decimal("1.0"))


def test_three_readings_alike_don_t_prove_that_nothing_changes() -> None:
    alike = found((0, "4"), (1, "4"), (2, "4"))

    assert isinstance(alike, Trend)
    assert alike.per_year == 0
    assert alike.interval is None


def test_one_wild_reading_turns_no_trend() -> None:
    wild = found((0, "0"), (1, "1"), (2, "90"), (3, "3"), (4, "4"), (5, "5"))

    assert isinstance(wild, Trend)
    assert wild.per_year == 1


def test_readings_of_one_moment_tell_no_rate() -> None:
    assert isinstance(found((0, "4"), (0, "5"), (0, "6")), NoTimeBetween)
    assert isinstance(found((0, "4")), NoTimeBetween)
    assert isinstance(found(), NoTimeBetween)


def test_two_readings_of_one_moment_stand_beside_a_later_one() -> None:
    assert found((0, "4"), (0, "6"), (1, "7")) == Trend(Decimal("2.0"), None, readings=3)


def test_readings_are_given_in_any_order() -> None:
    assert found((2, "9"), (0, "4")) == found((0, "4"), (2, "9"))
