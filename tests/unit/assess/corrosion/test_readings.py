"""A reading that can't be counts for nothing, and a rate needs two dates."""

from datetime import UTC, datetime, timedelta
from decimal import Decimal

from fieldapp.assess.corrosion import (
    Piece,
    Rate,
    ReadBeforePutUp,
    ThickerThanNew,
    Thickness,
    rate_of,
    usable,
)
from fieldapp.assess.statistics.interval import Interval
from fieldapp.assess.statistics.trend import NoTimeBetween

PUT_UP = datetime(2025, 3, 1, tzinfo=UTC)
BAR = Piece("bar", Decimal(22), PUT_UP)


def read(years: float, mm: str, u: str = "0.1") -> Thickness:
    return Thickness(PUT_UP + timedelta(days=365.25 * years), Decimal(mm), Decimal(u))


def rate(*readings: Thickness, piece: Piece = BAR) -> Rate:
    found = rate_of(piece, readings)
    assert isinstance(found, Rate)
    return found


def test_steel_does_not_grow_beyond_the_doubt_of_its_reading() -> None:
    within, beyond = read(1, "22.2"), read(2, "22.21")
    good, refused = usable(BAR, [within, beyond])

    assert good == (within,)
    (trouble,) = refused
    assert isinstance(trouble, ThickerThanNew)
    assert (trouble.read_mm, trouble.new_mm) == (Decimal("22.21"), Decimal(22))


def test_no_reading_is_older_than_the_support() -> None:
    good, refused = usable(BAR, [read(-0.1, "21.9"), read(0, "22")])

    assert good == (read(0, "22"),)
    (trouble,) = refused
    assert isinstance(trouble, ReadBeforePutUp)
    assert trouble.put_up_at == "1 Mar 2025 00:00 UTC"


def test_where_nobody_knows_when_it_was_put_up_no_date_is_too_early() -> None:
    unknown = Piece("bar", Decimal(22), None)

    assert usable(unknown, [read(-9, "21.9")]) == ((read(-9, "21.9"),), ())


def test_one_date_tells_no_rate() -> None:
    assert isinstance(rate_of(BAR, [read(3, "20"), read(3, "20.1")]), NoTimeBetween)


def test_two_dates_tell_a_rate_as_sure_as_their_readings() -> None:
    """21.7 − 19.3 mm in 3.5 years, both sides: 343 µm; ± 1.96·√2·0.05 mm/3.5 years."""
    found = rate(read(0, "21.7"), read(3.5, "19.3"))

    assert found.um_per_year == Decimal("342.9")
    assert found.interval == Interval(Decimal("303.3"), Decimal("382.5"))
    assert found.corrosivity == "CX"


def test_two_dates_of_which_nobody_said_how_sure_they_are_tell_a_rate_alone() -> None:
    assert rate(read(0, "22", "0"), read(1, "21.9", "0")).interval is None


def test_a_tube_that_rusts_on_one_side_loses_all_of_it_there() -> None:
    readings = (read(0, "3"), read(10, "2.5"))
    both, one = (Piece("tube", Decimal(3), PUT_UP, surfaces=n) for n in (2, 1))

    assert rate(*readings, piece=both).um_per_year == 25
    assert rate(*readings, piece=one).um_per_year == 50


def test_one_wild_reading_of_nine_turns_neither_the_rate_nor_its_interval() -> None:
    """A line of 50 µm a year; in its middle somebody read the wrong bar."""
    line = [read(n, f"{22 - 0.1 * n:.1f}", "0.01") for n in range(9)]
    wild = [*line[:4], read(4, "20", "0.01"), *line[5:]]

    assert rate(*wild) == rate(*line)
    assert rate(*line).um_per_year == 50


def test_steel_that_was_read_thicker_later_shows_a_rate_below_nothing() -> None:
    found = rate(read(0, "21.8"), read(1, "21.9"))

    assert found.um_per_year == -50
    assert found.corrosivity == "C1"
