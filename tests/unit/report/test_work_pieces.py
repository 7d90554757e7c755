"""The work of a month on paper: with n and interval, the reasons, and what nobody counted."""

from typing import Final

from fieldapp.report.pages.laying import Laying
from fieldapp.report.pages.month_pages import month_pages
from fieldapp.report.pages.work_pieces import work_charts
from fieldapp.report.reported import code_of
from fieldapp.work.reporting.told_of_work import WorkDone
from tests.unit.report.pages import reader_of
from tests.unit.report.told import AT, month_facts, pace_told, work_told

BEYOND: Final = {
    "heading": "4180 Main",
    "round": "round 87",
    "at": AT,
    "reason": "to bar down",
    "looked_into_at": None,
    "found": None,
}
BOLTS: Final = {
    "heading": "4180 Main",
    "thing": "bolts",
    "of": "RB24",
    "unit": "each",
    "rounds": 2,
    "needed": "72",
    "counted": 1,
    "by_standard": "36",
    "used": "38",
    "difference": "2",
}


def printed(work: WorkDone) -> str:
    facts = month_facts(work=work)
    on = Laying(facts, code_of(facts), "metres", lambda _: None)
    pages = reader_of(month_pages(on, facts, "Month")).pages
    return " ".join(" ".join(it.extract_text() for it in pages).split())


def test_a_median_is_printed_with_how_many_rounds_and_between_what_it_lies() -> None:
    year = pace_told(
        month=None,
        rounds=30,
        low="84",
        high="110",
        days=300,
        per_year="-80",
        per_year_low="-192",
        per_year_high="-16",
    )
    said = printed(work_told(pace=[pace_told(), year]))

    assert "92 min, n = 4 –" in said, "four rounds tell no interval"
    assert "92 min, n = 30 (84 to 110); falls by 80 min a year (-192 to -16)" in said


def test_who_went_beyond_the_last_row_is_printed_with_the_reason_and_that_nobody_looked() -> None:
    said = printed(
        work_told(
            beyond=[BEYOND],
            beyond_said=23,
            beyond_stated=1,
            beyond_low_percent="0.1",
            beyond_high_percent="21.9",
        )
    )

    assert "1 of 23 rounds of which it was said (0.1 to 21.9 %, 95 % sure)" in said
    assert "round 87" in said
    assert "to bar down NOBODY HAS LOOKED INTO IT" in said


def test_delays_are_printed_by_cause_with_their_share() -> None:
    delays = [
        {"cause": "machine broke down", "rounds": 2, "minutes": 60},
        {"cause": "called away", "rounds": 1, "minutes": 20},
    ]
    said = printed(work_told(delays=delays, delays_said=5))

    assert "80 min in all, in the 5 rounds of which it was said" in said
    assert "machine broke down 2 60 75 %" in said


def test_the_take_off_is_printed_beside_what_went_in_and_says_what_nobody_counted() -> None:
    uncounted = {"of": "PB24", "counted": 0, "by_standard": "0", "used": None, "difference": None}
    said = printed(work_told(materials=[BOLTS, {**BOLTS, **uncounted}]))

    assert "Bolts RB24 72 1 of 2 36 38 2 more, +6 %" in said
    assert "Bolts PB24 72 0 of 2 – – nobody counted" in said


def test_a_month_without_any_word_on_work_says_so() -> None:
    said = printed(work_told())

    assert "Nothing was stated that tells it." in said
    assert "Of no round it was said." in said


def test_each_method_has_its_own_points_in_the_chart_and_a_month_without_rounds_has_none() -> None:
    by_month = [
        pace_told(heading=None, month="2031-03", median="100"),
        pace_told(heading=None, method="mechanised", median="70"),
    ]
    minutes, *_ = work_charts(work_told(by_month=by_month))

    assert minutes.steps == ("2031-03", "2031-04", "2031-05")
    assert {it.name: it.values for it in minutes.series} == {
        "hand-held": (100.0, None, None),
        "mechanised": (None, None, 70.0),
    }
