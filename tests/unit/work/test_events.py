"""A firing or another event closes ground at once, until its time is over *and* a look."""

from dataclasses import replace
from decimal import Decimal

import pytest

from fieldapp.work.demo.story import MAIN, TWO_MISSING
from fieldapp.work.demo.walking import Look
from fieldapp.work.events import report_event
from fieldapp.work.inspections import shaken_by
from fieldapp.work.notices import (
    TooEarly,
    inspect,
)
from fieldapp.work.roles import NotYours
from schemas.findings import Verdict
from tests.unit.work.conftest import Shift


def fire(shift: Shift, name: str = MAIN, metres: str = "3.6") -> str:
    """Fire at the face, and wait until the exclusion time is over."""
    face_m = shift.entry(name).face_m
    event = report_event(
        shift.site, shift.place(name).id, "fired", face_m, shift.who(), fired_m=Decimal(metres)
    )
    shift.wait(minutes=31)
    return event.id


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
    before = shift.entry(MAIN).coverage
    fire(shift, metres="3.6")
    after = shift.entry(MAIN).coverage

    assert after.fired_m == before.fired_m + Decimal("3.6")
    assert after.signed_m == before.signed_m


def test_times_are_said_by_the_clock_on_the_mines_wall(shift: Shift) -> None:
    # Perth keeps UTC+8 all year: 09:30 UTC and the twelve hours of a seismic event are 05:30 there
    perth = shift.site.settings.model_copy(update={"zone": "Australia/Perth"})
    shift.site = replace(shift.site, settings=perth)
    report_event(shift.site, shift.place(MAIN).id, "seismic", Decimal(612), None)

    first = shift.entry(MAIN).because[0]

    assert first == "seismic at 612.0 m: until 7 May 2031 05:30 UTC+08:00 and an inspection"


def test_what_shook_the_ground_stands_until_somebody_has_looked(shift: Shift) -> None:
    """A firing does not: the round of it is looked at bolt by bolt."""
    place, face_m = shift.place(MAIN).id, shift.entry(MAIN).face_m
    before = shift.site.now()
    shift.wait(minutes=1)
    report_event(shift.site, place, "vehicle strike", face_m, None)
    fire(shift)
    shift.wait(days=2)
    struck = [it.body.what for it in shaken_by(shift.site, place, shift.site.now())]
    inspect(shift.site, place, shift.who(), up_to_m=face_m)

    assert struck == ["vehicle strike"]
    assert shaken_by(shift.site, place, before) == ()
    assert shaken_by(shift.site, place, shift.site.now()) == ()
