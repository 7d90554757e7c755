"""The Shift board: the mark is the state up to the face, and no word promises more."""

from datetime import timedelta
from decimal import Decimal

import pytest

from fieldapp.ui.board_words import board_now
from fieldapp.work.board import board, shift_name
from fieldapp.work.demo.story import CUDDY, HEADINGS, MAIN, ORE_S, TWO_MISSING
from fieldapp.work.events import report_event
from fieldapp.work.headings import add_heading
from fieldapp.work.notices import say_no_entry
from schemas.findings import Verdict
from schemas.settings import Settings
from tests.asked import times_asked
from tests.unit.work.bolt_tests.test_recording import fails
from tests.unit.work.conftest import Shift
from tests.unit.work.rehab.test_steps import begun


def test_headings_stand_in_the_order_in_which_they_were_entered(shift: Shift) -> None:
    names = [row.name for row in board(shift.site, shift.clock())]

    assert names == [place.name for place in HEADINGS]


def test_a_metre_without_accepted_support_is_never_under_a_green_tick(shift: Shift) -> None:
    """In every heading of the demo the last row stands short of the face, as it has to."""
    rows = board(shift.site, shift.clock())

    assert all(row.entry.line_m < row.face_m for row in rows)
    assert [row.name for row in rows if row.mark is Verdict.ACCEPT] == []


def test_a_heading_accepted_to_its_last_row_bears_no_mark_and_says_when(shift: Shift) -> None:
    row = shift.row(MAIN)

    assert [row.entry.state, row.signed, row.mark] == ["entry allowed", "signed 06:35", None]


def test_a_firing_is_said_with_its_round_and_time(shift: Shift) -> None:
    assert shift.row(CUDDY).detail == "round 11 fired 07:06"


def test_firing_again_is_not_signed_until_somebody_looks(shift: Shift) -> None:
    shift.wait(minutes=5)
    place = shift.place(MAIN).id
    report_event(shift.site, place, "fired", Decimal(612), None, fired_m=Decimal("3.6"))

    assert [shift.row(MAIN).last_round, shift.row(MAIN).mark] == ["Not signed", Verdict.NO_ENTRY]


def test_a_round_that_is_being_looked_at_says_since_when(shift: Shift) -> None:
    assert shift.row(ORE_S).detail == "since 09:06, round 61"


def test_what_was_decided_is_said(shift: Shift) -> None:
    shift.sign(shift.look(TWO_MISSING), "sent back")
    row = shift.row()

    assert [row.last_round, row.detail, row.mark] == ["Sent back", "round 65", Verdict.REWORK]


def test_why_nobody_may_go_is_left_out_last(shift: Shift) -> None:
    """A failed test and a doubted batch close nothing; where few letters fit all are named."""
    fails(shift, batch="RB24-0731")
    say_no_entry(shift.site, shift.place(MAIN).id, Decimal(600), None)
    lines = board_now(shift.site, shift.clock()).lines
    reasons = next(it.reason for it in lines if it.heading_id == shift.place(MAIN).id)
    without = next(it for it, said in enumerate(reasons) if "no entry" not in said)

    assert "no entry; failed test; batch in doubt" in reasons[:without]


def test_what_closes_a_heading_stands_before_what_closes_nothing(shift: Shift) -> None:
    fails(shift, batch="RB24-0731")
    place = shift.place(MAIN).id
    say_no_entry(shift.site, place, Decimal(600), None, reason="round 87 was not accepted")
    lines = board_now(shift.site, shift.clock()).lines
    first, *_ = next(it.reason for it in lines if it.heading_id == place)

    assert first.startswith("no entry: round 87 was not accepted; failed proof pull at 590.4 m")


def test_the_strictest_reason_is_shortened_before_a_milder_one_stands_for_it(
    shift: Shift,
) -> None:
    """A barrier far outbye was there for a repair; the board named the last round instead."""
    begun(shift)
    lines = board_now(shift.site, shift.clock()).lines
    first, *shorter = next(it.reason for it in lines if it.heading_id == shift.place(MAIN).id)

    assert first.startswith("barricaded: repair in hand, 590.4")
    assert first.endswith(" by B crew")
    assert shorter[:2] == ["repair in hand, 590.4 m", "repair in hand"]


def test_the_database_is_asked_no_more_often_with_more_headings(shift: Shift) -> None:
    """500 headings took 0.3 s a look, each asking for the open rounds anew."""

    def look() -> None:
        board_now(shift.site, shift.clock())

    look()
    of_these = times_asked(look)
    body = shift.place(MAIN).body.model_copy(update={"name": "4180 Main, north"})
    add_heading(shift.site, body, shift.who("Geotechnical engineer"))
    look()

    assert times_asked(look) == of_these


@pytest.mark.parametrize(
    ("zone", "hours", "said"),
    [
        ("UTC", 0, "day shift, Tuesday"),
        ("UTC", 9, "night shift, Tuesday"),
        ("UTC", 15, "night shift, Tuesday"),
        ("Etc/GMT-10", 0, "night shift, Tuesday"),
        ("Etc/GMT+10", 0, "night shift, Monday"),
    ],
)
def test_the_shift_is_by_the_mine_s_own_clock(
    shift: Shift, zone: str, hours: int, said: str
) -> None:
    site = shift.site.with_settings(Settings(zone=zone))

    assert shift_name(site, shift.clock() + timedelta(hours=hours)) == said


def test_where_no_round_is_recorded_none_is_said_to_be_signed(shift: Shift) -> None:
    """A drive that was entered as it stood: nobody signed a round of it here."""
    body = shift.place(MAIN).body.model_copy(update={"name": "Old drive"})
    add_heading(shift.site, body, shift.who("Geotechnical engineer"))
    line = next(
        it for it in board_now(shift.site, shift.clock()).lines if it.name.startswith("Old")
    )

    assert line.last_round[0] == "No round yet"
    assert line.reason[0] == "nothing fired since it was entered here"
