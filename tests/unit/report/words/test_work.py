"""The work of a round in words, and its take-off."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from decimal import Decimal
from zoneinfo import ZoneInfo

from fieldapp.assess.take_off import take_off, wanted_for
from fieldapp.report.words.take_off import how_lines, wanted_words
from fieldapp.report.words.work import work_words
from schemas.bodies.work_seen import WorkSeen
from tests.unit.assess.conforming import STANDARD, conforming

BEGAN = datetime(2031, 5, 6, 2, 0, tzinfo=UTC)
O2 = STANDARD.classes[1]


def said(minutes: int) -> str:
    work = WorkSeen(started_at=BEGAN, finished_at=BEGAN + timedelta(minutes=minutes))
    return work_words(conforming(work=work).round, STANDARD, ZoneInfo("UTC"))


def test_times_that_contradict_each_other_are_said_as_stated_and_to_be_no_use() -> None:
    assert "contradict each other" in said(-30)
    assert "contradict each other" not in said(30)


def test_one_of_a_thing_is_said_as_one() -> None:
    found = take_off(O2, wanted_for(O2, Decimal("1.2")))
    one = tuple(replace(it, capsules=1) for it in found.resin)

    assert "1 row, " in wanted_words(found, "metres")
    assert any(
        "1 capsule a bolt fills" in it for it in how_lines(replace(found, resin=one), "metres")
    )
