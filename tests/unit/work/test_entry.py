"""Where people may go: the strictest fact wins, and prohibitions end by a person only."""

from decimal import Decimal

import pytest

from fieldapp.work.demo.story import CUDDY, MAIN, ORE_N, TWO_MISSING
from fieldapp.work.demo.walking import Look
from fieldapp.work.entry import coverage
from fieldapp.work.events import report_event
from fieldapp.work.notices import (
    TooEarly,
    answer,
    inspect,
    restrict,
    say_no_entry,
)
from fieldapp.work.record import record
from fieldapp.work.roles import NotYours
from fieldapp.work.rounds import last_row_m, look_again, rounds
from schemas.findings import Verdict
from tests.unit.work.conftest import Shift

SUPERVISORS = "Day supervisor"


def fire(shift: Shift, name: str = MAIN, metres: str = "3.6") -> str:
    """Fire at the face, and wait until the exclusion time is over."""
    face_m = shift.entry(name).face_m
    event = report_event(
        shift.site, shift.place(name).id, "fired", face_m, shift.who(), fired_m=Decimal(metres)
    )
    shift.wait(minutes=31)
    return event.id


# --- rounds ---------------------------------------------------------------------------------


def test_an_accepted_round_opens_the_heading_to_its_face(shift: Shift) -> None:
    assert [shift.entry(MAIN).state, shift.entry(MAIN).verdict] == [
        "entry allowed",
        Verdict.ACCEPT,
    ]


def test_the_entry_line_is_never_beyond_the_last_accepted_row(shift: Shift) -> None:
    accepted = rounds(shift.site, shift.place(MAIN).id)[-1].body

    assert shift.entry(MAIN).line_m <= last_row_m(accepted)


def test_a_round_sent_back_holds_entry_at_its_joint(shift: Shift) -> None:
    sent_back = rounds(shift.site, shift.place(ORE_N).id)[-1].body
    state = shift.entry(ORE_N)

    assert [state.line_m, state.verdict] == [sent_back.joint_m, Verdict.REWORK]


def test_a_round_that_was_never_signed_is_shown_as_such(shift: Shift) -> None:
    state = shift.entry(CUDDY)

    assert state.verdict is Verdict.NOT_LOOKED_AT
    assert state.metres_not_signed > Decimal("2.1")
    assert shift.row(CUDDY).last_round == "Not signed"


def test_a_draft_opens_nothing(shift: Shift) -> None:
    before = shift.entry().line_m
    shift.look()

    assert shift.entry().line_m == before


def test_accepting_a_round_moves_the_line_to_its_last_row(shift: Shift) -> None:
    work = shift.look()
    shift.sign(work)

    assert shift.entry().line_m == last_row_m(work.seen)
    assert shift.entry().state == "entry allowed"


def test_looking_again_ends_what_was_signed_before(shift: Shift) -> None:
    """A new revision that nobody signed is not covered by an older signature."""
    known = rounds(shift.site, shift.place(MAIN).id)[-1]
    work = look_again(shift.site, known.id, shift.who())
    record(shift.site, work, shift.who())
    state = shift.entry(MAIN)

    assert state.verdict is Verdict.NOT_LOOKED_AT
    assert state.line_m <= known.body.joint_m
    assert shift.row(MAIN).last_round == "Not signed"


# --- firing and other events ------------------------------------------------------------------


def test_a_firing_withdraws_entry_thirty_metres_back_at_once(shift: Shift) -> None:
    face_m = shift.entry(MAIN).face_m
    place = shift.place(MAIN).id
    report_event(shift.site, place, "fired", face_m, None, fired_m=Decimal("3.6"))
    state = shift.entry(MAIN)

    assert [state.verdict, state.line_m] == [Verdict.NO_ENTRY, face_m - 30]


def test_waiting_alone_ends_no_event(shift: Shift) -> None:
    fire(shift)
    shift.wait(days=30)

    assert shift.entry(MAIN).verdict is Verdict.NO_ENTRY


def test_nobody_inspects_before_the_time_is_over(shift: Shift) -> None:
    fire(shift)
    shift.wait(minutes=-5)
    with pytest.raises(TooEarly):
        inspect(shift.site, shift.place(MAIN).id, shift.who(), up_to_m=Decimal(612))


def test_an_inspection_after_the_time_ends_the_event(shift: Shift) -> None:
    fire(shift)
    inspect(shift.site, shift.place(MAIN).id, shift.who(), up_to_m=Decimal(612))

    assert shift.entry(MAIN).verdict is Verdict.NOT_LOOKED_AT


@pytest.mark.parametrize("who", ["Records keeper", "Bolter, crew A"])
def test_not_everybody_inspects(shift: Shift, who: str) -> None:
    fire(shift)
    with pytest.raises(NotYours):
        inspect(shift.site, shift.place(MAIN).id, shift.who(who), up_to_m=Decimal(612))


def test_a_firing_ends_the_sign_off_of_the_last_two_rows(shift: Shift) -> None:
    before = shift.entry(MAIN).line_m
    fire(shift)
    inspect(shift.site, shift.place(MAIN).id, shift.who(), up_to_m=Decimal(612))

    assert shift.entry(MAIN).line_m == before - Decimal("1.8")


def test_the_two_rows_count_again_once_confirmed_also_in_a_round_sent_back(shift: Shift) -> None:
    work = shift.look(TWO_MISSING)
    shift.sign(work, "sent back")

    assert shift.entry().line_m == work.seen.joint_m


def test_old_rows_that_were_not_confirmed_stay_closed(shift: Shift) -> None:
    work = shift.look(Look(stops_before="old row 0"))
    shift.sign(work, "sent back")

    assert shift.entry().line_m < work.seen.old_rows[0].chainage_m


def test_a_second_event_needs_a_second_inspection(shift: Shift) -> None:
    place = shift.place(MAIN).id
    fire(shift)
    inspect(shift.site, place, shift.who(), up_to_m=Decimal(612))
    report_event(shift.site, place, "seismic", Decimal(600), None)
    shift.wait(hours=13)

    assert shift.entry(MAIN).verdict is Verdict.NO_ENTRY


def test_metres_signed_stand_over_metres_fired(shift: Shift) -> None:
    before = coverage(shift.site, shift.place(MAIN).id)
    fire(shift, metres="3.6")
    after = coverage(shift.site, shift.place(MAIN).id)

    assert after.fired_m == before.fired_m + Decimal("3.6")
    assert after.signed_m == before.signed_m


# --- notices ------------------------------------------------------------------------------------


@pytest.mark.parametrize("who", [None, "Bolter, crew A", "Records keeper", SUPERVISORS])
def test_anyone_states_no_entry(shift: Shift, who: str | None) -> None:
    person = shift.who(who) if who else None
    say_no_entry(shift.site, shift.place(MAIN).id, Decimal(605), person)
    state = shift.entry(MAIN)

    assert [state.line_m, state.state] == [Decimal(605), "no entry, barrier not yet up"]


def test_a_barrier_that_is_up_is_barricaded(shift: Shift) -> None:
    notice = say_no_entry(shift.site, shift.place(MAIN).id, Decimal(605), None)
    answer(shift.site, notice.id, None, barrier_up=True, anyone_inbye=False)

    assert shift.entry(MAIN).state == "barricaded"


def test_a_barrier_does_not_cover_what_lies_outbye_of_it(shift: Shift) -> None:
    place = shift.place(MAIN).id
    inbye = say_no_entry(shift.site, place, Decimal(608), None)
    answer(shift.site, inbye.id, None, barrier_up=True)
    say_no_entry(shift.site, place, Decimal(600), None)

    assert shift.entry(MAIN).state == "no entry, barrier not yet up"


def test_the_strictest_of_several_notices_wins(shift: Shift) -> None:
    place = shift.place(MAIN).id
    say_no_entry(shift.site, place, Decimal(605), None)
    restrict(shift.site, place, Decimal(590), shift.who(), to="light vehicles")
    state = shift.entry(MAIN)

    assert [state.line_m, state.verdict] == [Decimal(605), Verdict.NO_ENTRY]
