"""How findings, places and times are said in print."""

from datetime import UTC, datetime, timedelta, timezone
from decimal import Decimal
from zoneinfo import ZoneInfo

import pytest

from fieldapp.report.words.findings import (
    chainage,
    dated,
    day,
    decimal_words,
    limit,
    measured,
    not_looked_at,
    places,
    sentence,
    verdict_words,
    when,
    when_from,
    with_role,
)
from schemas.findings import Place, Verdict
from tests.unit.report.examples import (
    FACE,
    GAP,
    JUDGED,
    LAP,
    PAINT,
    PLATES,
    ROW_3,
    finding,
    judged,
)

NBSP = "\u00a0"


@pytest.mark.parametrize(
    ("metres", "words"),
    [("1386.40", f"1{NBSP}386.4"), ("39.4", "39.4"), ("0", "0.0"), ("12345.65", f"12{NBSP}345.6")],
)
def test_a_chainage_is_written_to_a_tenth_with_thousands_apart(metres: str, words: str) -> None:
    assert chainage(Decimal(metres)) == words


def test_a_time_is_written_in_the_zone_of_the_mine_with_its_distance_from_utc() -> None:
    at = datetime(2026, 3, 31, 22, 5, tzinfo=UTC)

    assert when(at, timezone(timedelta(hours=5, minutes=30))) == "1 Apr 2026 03:35 UTC+05:30"
    assert when(at, timezone(timedelta(hours=-7))) == "31 Mar 2026 15:05 UTC-07:00"
    assert when(at, UTC) == "31 Mar 2026 22:05 UTC"


def test_summer_time_shows_in_the_distance_from_utc() -> None:
    zone = ZoneInfo("Europe/Helsinki")

    # From memory: summer time there began on 29 March 2026 at 01:00 UTC.
    assert when(datetime(2026, 3, 28, 12, tzinfo=UTC), zone) == "28 Mar 2026 14:00 UTC+02:00"
    assert when(datetime(2026, 3, 30, 12, tzinfo=UTC), zone) == "30 Mar 2026 15:00 UTC+03:00"


def test_today_s_times_are_said_without_the_date() -> None:
    now = datetime(2031, 5, 6, 23, 30, tzinfo=timezone(timedelta(hours=8)))

    assert when_from(now + timedelta(minutes=20), now) == "23:50 UTC+08:00"
    assert when_from(now + timedelta(hours=1), now) == "7 May 2031 00:30 UTC+08:00"
    assert day(now, UTC) == "6 May 2031"


def test_times_in_the_words_of_a_record_are_turned_to_the_form_of_the_page() -> None:
    job = "nobody under it until 2031-05-06 22:00 UTC: the shotcrete"

    zone = timezone(timedelta(hours=8))
    assert dated(job, zone) == "nobody under it until 7 May 2031 06:00 UTC+08:00: the shotcrete"
    assert dated("resin of 2031-05-06, lot 7", zone) == "resin of 2031-05-06, lot 7"


@pytest.mark.parametrize(
    ("name", "role", "words"),
    [
        ("Day supervisor", "shift supervisor", "Day supervisor, shift supervisor"),
        ("Geotechnical engineer", "geotechnical engineer", "Geotechnical engineer"),
        ("Shift supervisor, crew A", "shift supervisor", "Shift supervisor, crew A"),
    ],
)
def test_a_role_is_said_once(name: str, role: str, words: str) -> None:
    assert with_role(name, role) == words


def test_a_value_is_written_with_its_uncertainty_and_unit() -> None:
    assert measured(GAP) == f"2.36 ± 0.07{NBSP}m"
    assert measured(GAP, doubt=False) == f"2.36{NBSP}m"
    assert measured(LAP) == f"210{NBSP}mm"
    assert measured(PLATES) == "17 of 18"
    assert measured(ROW_3) == ""
    assert measured(PAINT) == "no"


def test_degrees_stand_close() -> None:
    angle = finding("bolt_angle", "Bolt angle", Verdict.ACCEPT, measured="9", unit="°")

    assert measured(angle) == "9°"


def test_a_limit_is_written_with_its_unit() -> None:
    assert limit(GAP) == f"at most 2.07{NBSP}m"
    assert limit(PAINT) == "painted or signed"
    assert limit(finding("curing", "Curing", Verdict.ACCEPT)) == ""


def test_a_verdict_says_what_it_holds_entry_at() -> None:
    assert verdict_words(GAP) == "no entry"
    assert verdict_words(ROW_3) == "not looked at, held as no entry"
    assert verdict_words(FACE) == "measure again, held as rework"
    under = GAP.model_copy(update={"deviation": "row 2", "holds": Verdict.ACCEPT})
    assert verdict_words(under) == "no entry, under a deviation"


def test_places_beyond_the_first_are_counted() -> None:
    where = tuple(Place(words=f"row {number}") for number in range(1, 6))
    many = GAP.model_copy(update={"places": where})

    assert places(many) == "row 1; row 2; row 3; and 2 more"
    assert places(many, at_most=5) == "row 1; row 2; row 3; row 4; row 5"
    assert places(PAINT) == ""


def test_what_was_not_looked_at_is_named_and_the_rest_counted() -> None:
    assert not_looked_at(JUDGED) == "Bolts present, row 3 (row 3)"
    three = judged(ROW_3, ROW_3, ROW_3)
    assert not_looked_at(three, at_most=1).endswith("; and 2 more in the list above")


def test_a_sentence_begins_large_and_ends_once() -> None:
    assert sentence("paint the last row") == "Paint the last row."
    assert sentence("Done.") == "Done."
    assert sentence("") == ""


def test_a_reading_that_was_not_taken_is_said_to_be_so() -> None:
    assert decimal_words(None, "m") == "not taken"
    assert decimal_words(Decimal("2.40"), "m") == f"2.40{NBSP}m"
