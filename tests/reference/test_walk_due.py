"""Intervals of condition walks that are published, put into a standard as a mine would.

30 CFR 57.3401 (United States, metal and nonmetal mines underground): haulageways and travelways
are examined weekly, or more often as ground conditions warrant.
S-2.1, r. 14, s. 28.04 (Quebec): the ground control programme is assessed every year.
"""

from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from typing import Any

from fieldapp.assess.walk import Condition, LookedAt, Section, due, interval
from tests.standards import changed

TRAVELWAY, ELSEWHERE = "E4", "E1"
MONDAY = datetime(2031, 5, 5, 7, tzinfo=UTC)
GROUND = Section(Decimal(100), Decimal(110))


def due_on(exposure: str, looked_at: datetime, asked_at: datetime, corrosion: int = 0) -> date:
    def published(document: Any) -> None:
        document["walk"]["interval_days"] = 365
        document["walk"]["intervals"] = [
            {"exposure": TRAVELWAY, "interval_days": 7, "because": "30 CFR 57.3401"},
            {"corrosion_from": 3, "interval_days": 1, "because": "30 CFR 57.3401, as warranted"},
        ]

    standard = changed(published)
    assert standard.walk is not None
    known = Condition(frozenset({"D1"}), None, exposure, corrosion, None)
    often = interval(standard, standard.walk, known)
    return due(GROUND, [LookedAt(GROUND, looked_at)], (), often, asked_at).on


def test_a_travelway_looked_at_on_monday_is_due_on_the_next_monday() -> None:
    on = due_on(TRAVELWAY, MONDAY, MONDAY)

    assert (f"{on}", f"{on:%A}") == ("2031-05-12", "Monday")


def test_more_often_where_the_ground_warrants_it() -> None:
    assert due_on(TRAVELWAY, MONDAY, MONDAY, corrosion=3) == date(2031, 5, 6)


def test_where_nobody_travels_it_is_due_after_a_year() -> None:
    assert due_on(ELSEWHERE, MONDAY, MONDAY + timedelta(days=300)) == date(2032, 5, 4)
    assert (date(2032, 5, 4) - MONDAY.date()).days == 365, "2032 is a leap year"
