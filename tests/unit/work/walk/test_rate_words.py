"""A rate is said with how sure it is; ISO 9223 stands beside it and judges nothing."""

from dataclasses import replace
from decimal import Decimal

from fieldapp.assess.corrosion import Rate
from fieldapp.assess.statistics.interval import Interval
from fieldapp.work.walk.rate_words import rate_words, usual_words
from schemas.corrosion_rules import CorrosionRate

SIXTY_TWO = Rate(Decimal("62.0"), Interval(Decimal("48.1"), Decimal("75.4")), 4, "C4")
WET = CorrosionRate(
    corrosivity="C4",
    steel_um_per_year=Decimal(80),
    zinc_um_per_year=Decimal("4.2"),
    because="S-2, 10.7",
)


def test_what_was_read_is_said_with_its_interval_and_the_category_of_air_beside_it() -> None:
    """ISO 9223:2012, table 2: steel loses 50 to 80 µm in its first year in C4."""
    assert rate_words(SIXTY_TWO) == (
        "loses 62 µm a year on each surface (48.1 to 75.4, 95 %; 4 readings); "
        "ISO 9223 C4 in a first year, 50 to 80"
    )


def test_two_dates_alone_give_no_interval_and_that_is_said() -> None:
    alone = rate_words(replace(SIXTY_TWO, interval=None, readings=2))

    assert "no interval: too few dates, and nobody said how sure the readings are" in alone
    assert "95 %" not in alone


def test_steel_that_goes_faster_than_in_any_air_stands_beside_no_category() -> None:
    assert rate_words(replace(SIXTY_TWO, corrosivity=None)).endswith(
        "beyond every category of ISO 9223"
    )


def test_steel_that_was_read_thicker_later_loses_nothing_and_is_put_in_no_air() -> None:
    thicker = replace(
        SIXTY_TWO, um_per_year=Decimal("-50.0"), interval=Interval(Decimal(-189), Decimal(89))
    )

    assert rate_words(thicker) == (
        "no loss shows: -50 µm a year on each surface (-189 to 89, 95 %; 4 readings)"
    )


def test_the_standard_s_rates_are_said_of_steel_and_of_zinc_where_it_was_galvanised() -> None:
    """ISO 9224:2012, table 3, from memory: 80 µm in the first year are 267 after ten."""
    assert usual_words(WET, zinc=False) == (
        "the standard's rate counts: steel 80 µm a year (ISO 9223 C4 in a first year, 50 to 80; "
        "in 10 years 800 µm, in air by ISO 9224 267)"
    )
    assert usual_words(WET, zinc=True) == (
        f"{usual_words(WET, zinc=False)}, "
        "zinc 4.2 µm a year (ISO 9223 C4 in a first year, 2.1 to 4.2; "
        "in 10 years 42 µm, in air by ISO 9224 27)"
    )
