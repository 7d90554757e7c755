"""A trend needs dates, and its interval needs some more."""

from datetime import UTC, datetime, timedelta
from decimal import Decimal

from fieldapp.assess.statistics.interval import Interval
from fieldapp.assess.statistics.trend import Dated, NoTimeBetween, Trend, trend

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


# --- several places, and very many readings -----------------------------------------------------


def found_at(*readings: tuple[float, str, str]) -> Trend:
    dated = [
        Dated(BEGAN + timedelta(days=365.25 * at), Decimal(it), place)
        for at, it, place in readings
    ]
    told = trend(dated, Decimal("0.95"), Decimal("0.1"))
    assert isinstance(told, Trend)
    return told


def test_a_place_that_is_read_later_and_stands_higher_is_no_rise() -> None:
    """Two places that fall by 1 a year; all readings thrown together, they rise."""
    first = [(year, str(5 - year), "cuddy") for year in range(5)]
    later = [(year, str(60 - year), "decline") for year in range(5, 10)]
    told, thrown_together = (
        found_at(*first, *later),
        found(*((at, it) for at, it, _ in (*first, *later))),
    )

    assert (told.per_year, told.places) == (Decimal("-1.0"), 2)
    assert told.interval == Interval(Decimal("-1.0"), Decimal("-1.0"))
    assert isinstance(thrown_together, Trend)
    assert thrown_together.per_year > 0


def test_places_read_once_each_tell_no_rate() -> None:
    at = [Dated(BEGAN + timedelta(days=n), Decimal(n), f"section {n}") for n in range(9)]

    assert isinstance(trend(at, Decimal("0.95"), Decimal("0.1")), NoTimeBetween)


def test_the_medians_of_months_stand_for_more_readings_than_can_be_compared() -> None:
    """Ten a week for ten years, of a place that rises by 2 a year: every fifth is wild."""
    weeks = [n / 52 for n in range(520) for _ in range(10)]
    readings = [(at, str(2 * at + 90 * (n % 5 == 0))) for n, at in enumerate(weeks)]
    few, many = found(*readings[:700]), found(*readings)

    assert isinstance(few, Trend)
    assert isinstance(many, Trend)
    assert (few.pooled, many.pooled) == (None, "month")
    assert many.readings == 5200
    assert abs(many.per_year - 2) <= Decimal("0.1")


def test_the_quarters_of_many_places_are_compared_where_their_months_are_too_many() -> None:
    places = [f"section {n}" for n in range(200)]
    readings = [(month / 12, str(month / 12), it) for month in range(120) for it in places]
    told = found_at(*readings)

    assert (told.pooled, told.places, told.per_year) == ("quarter", 200, Decimal("1.0"))
