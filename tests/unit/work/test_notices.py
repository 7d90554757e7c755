"""Notices: stricter by anyone, milder only by who may, and never by a clock."""

from datetime import timedelta
from decimal import Decimal

import pytest

from fieldapp.work.demo.story import DECLINE, MAIN
from fieldapp.work.notices import (
    NotToBeLifted,
    answer,
    lift,
    notices,
    restrict,
    say_no_entry,
)
from schemas.findings import Verdict
from tests.unit.work.conftest import Shift

SUPERVISORS = "Day supervisor"


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


def test_a_closed_place_cuts_off_what_lies_inbye(shift: Shift) -> None:
    say_no_entry(shift.site, shift.place(MAIN).id, Decimal(300), None)

    assert shift.entry(MAIN).cut_off


def test_no_entry_never_ends_by_a_clock(shift: Shift) -> None:
    say_no_entry(shift.site, shift.place(MAIN).id, Decimal(605), None)
    shift.wait(days=365)

    assert shift.entry(MAIN).verdict is Verdict.NO_ENTRY


@pytest.mark.parametrize(
    ("setter", "lifter", "may"),
    [
        (None, "Bolter, crew A", False),
        (None, "Geotechnical technician", False),
        (None, SUPERVISORS, True),
        ("Bolter, crew A", SUPERVISORS, True),
        (SUPERVISORS, "Night supervisor", True),
        (SUPERVISORS, "Geotechnical technician", False),
        ("Geotechnical engineer", SUPERVISORS, False),
        ("Geotechnical engineer", "Geotechnical engineer", True),
        (SUPERVISORS, "Records keeper", False),
    ],
)
def test_a_no_entry_is_lifted_by_the_role_that_set_it_or_higher(
    shift: Shift, setter: str | None, lifter: str, *, may: bool
) -> None:
    place = shift.place(MAIN).id
    person = shift.who(setter) if setter else None
    notice = say_no_entry(shift.site, place, Decimal(605), person)
    if may:
        lift(shift.site, notice.id, shift.who(lifter), barrier_down=True)
    else:
        with pytest.raises(NotToBeLifted):
            lift(shift.site, notice.id, shift.who(lifter), barrier_down=True)

    assert (shift.entry(MAIN).state == "entry allowed") is may


@pytest.mark.parametrize(
    ("setter", "needed"),
    [
        (None, "shift supervisor"),
        ("Bolter, crew A", "shift supervisor"),
        ("Geotechnical engineer", "geotechnical engineer"),
    ],
)
def test_whoever_may_not_lift_it_is_told_which_role_may(
    shift: Shift, setter: str | None, needed: str
) -> None:
    person = shift.who(setter) if setter else None
    notice = say_no_entry(shift.site, shift.place(MAIN).id, Decimal(605), person)
    with pytest.raises(NotToBeLifted) as told:
        lift(shift.site, notice.id, shift.who("Bolter, crew A"), barrier_down=True)

    assert told.value.sentences()[2].startswith(f"Ask a {needed}, or a higher role")


def test_what_somebody_of_lower_standing_adds_does_not_lower_who_may_lift(shift: Shift) -> None:
    place = shift.place(MAIN).id
    notice = say_no_entry(shift.site, place, Decimal(605), shift.who("Geotechnical engineer"))
    answer(shift.site, notice.id, None, reason="drummy", barrier_up=True)
    with pytest.raises(NotToBeLifted):
        lift(shift.site, notice.id, shift.who(), barrier_down=True)


def test_nothing_is_lifted_while_the_barrier_stands(shift: Shift) -> None:
    notice = say_no_entry(shift.site, shift.place(MAIN).id, Decimal(605), None)
    with pytest.raises(NotToBeLifted):
        lift(shift.site, notice.id, shift.who(), barrier_down=False)


def test_lifting_names_what_is_lifted(shift: Shift) -> None:
    notice = say_no_entry(shift.site, shift.place(MAIN).id, Decimal(605), None)
    lifted = lift(shift.site, notice.id, shift.who(), barrier_down=True)

    assert [lifted.body.lifts, lifted.body.barrier_down] == [(notice.id,), True]


def test_what_was_lifted_is_not_lifted_twice(shift: Shift) -> None:
    notice = say_no_entry(shift.site, shift.place(MAIN).id, Decimal(605), None)
    lift(shift.site, notice.id, shift.who(), barrier_down=True)
    with pytest.raises(NotToBeLifted):
        lift(shift.site, notice.id, shift.who(), barrier_down=True)


def test_accepting_a_round_lifts_no_notice(shift: Shift) -> None:
    say_no_entry(shift.site, shift.place().id, Decimal(300), None)
    shift.sign(shift.look())

    assert [shift.entry().line_m, shift.entry().verdict] == [Decimal(300), Verdict.NO_ENTRY]


def test_a_restriction_lapses_into_barricaded(shift: Shift) -> None:
    until = shift.clock() + timedelta(hours=8)
    restrict(
        shift.site, shift.place(MAIN).id, Decimal(600), shift.who(), to="two people", until=until
    )
    before = shift.entry(MAIN).state
    shift.wait(hours=9)
    after = shift.entry(MAIN)

    assert [before, after.state, after.line_m] == ["restricted", "barricaded", Decimal(600)]


def test_a_restriction_closes_no_ground(shift: Shift) -> None:
    before = shift.entry(MAIN).line_m
    restrict(shift.site, shift.place(MAIN).id, Decimal(600), shift.who(), to="light vehicles")

    assert shift.entry(MAIN).line_m == before


def test_the_barricaded_round_of_the_demo_is_barricaded_with_its_barrier_up(shift: Shift) -> None:
    assert [shift.entry(DECLINE).state, shift.row(DECLINE).last_round] == [
        "barricaded",
        "Barricaded",
    ]
    assert len(notices(shift.site, shift.place(DECLINE).id)) == 1
