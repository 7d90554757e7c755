"""Firings and other events: what is typed wrong, said late or by a wrong clock opens nothing."""

from datetime import timedelta
from decimal import Decimal

import pytest

from fieldapp.work.demo.story import MAIN, READY
from fieldapp.work.demo.walking import Look
from fieldapp.work.events import report_event
from fieldapp.work.face import face
from fieldapp.work.notices import NotToBeLifted, TooEarly, inspect, lift, restrict, say_no_entry
from fieldapp.work.record import record
from fieldapp.work.rounds import look_again, rounds
from schemas.bodies.event import Event
from schemas.findings import Verdict
from tests.unit.work.conftest import Shift

FAR = Decimal(99_000)


def fire(shift: Shift, at_m: Decimal | None = None, fired_m: str | None = "3.6") -> Event:
    place = shift.place(MAIN).id
    event = report_event(
        shift.site,
        place,
        "fired",
        shift.entry(MAIN).face_m if at_m is None else at_m,
        shift.who(),
        fired_m=None if fired_m is None else Decimal(fired_m),
    )
    return event.body


def looked(shift: Shift) -> None:
    shift.wait(hours=25)
    inspect(shift.site, shift.place(MAIN).id, shift.who(), up_to_m=FAR)


@pytest.mark.parametrize("typed", ["61", "0", "6120"])
def test_a_firing_typed_at_a_wrong_chainage_still_leaves_the_metres_unsigned(
    shift: Shift, typed: str
) -> None:
    """The face went inbye by what was fired, wherever somebody typed that it was."""
    before = shift.entry(MAIN)
    fire(shift, Decimal(typed))
    at_once = shift.entry(MAIN)
    looked(shift)
    after = shift.entry(MAIN)

    assert at_once.line_m <= before.face_m - 30
    assert after.face_m == before.face_m + Decimal("3.6")
    assert after.line_m == before.line_m - Decimal("1.8")
    assert after.state != "entry allowed"


def test_a_firing_of_unknown_length_ends_the_old_rows_too(shift: Shift) -> None:
    before = shift.entry(MAIN).line_m
    fire(shift, fired_m=None)
    looked(shift)

    assert shift.entry(MAIN).line_m == before - Decimal("1.8")


def test_a_firing_said_with_a_clock_set_back_moves_the_face_all_the_same(shift: Shift) -> None:
    before = shift.entry(MAIN).face_m
    shift.wait(days=-2)
    fire(shift)
    shift.wait(days=2)

    assert shift.entry(MAIN).face_m == before + Decimal("3.6")


def test_an_exclusion_said_with_a_clock_set_back_lasts_as_long_as_any(shift: Shift) -> None:
    """The newest entry is later than the clock: the half hour counts from there."""
    newest = shift.site.store.ledger.newest_made_at()
    assert newest is not None
    shift.wait(hours=-12)
    event = fire(shift)

    assert event.excluded_until == newest + timedelta(minutes=30)


def test_a_clock_years_behind_closes_nothing_for_years(shift: Shift) -> None:
    shift.wait(days=-1000)
    event = fire(shift)

    assert event.excluded_until <= shift.clock() + timedelta(days=1, minutes=30)


def test_an_event_is_stated_also_where_no_standard_is_in_force(shift: Shift) -> None:
    shift.wait(days=-4000)
    event = fire(shift)

    assert (event.radius_m, event.what) == (Decimal(30), "fired")


def test_looking_at_an_older_round_again_brings_no_face_back(shift: Shift) -> None:
    """Round 87 is corrected after round 88 was fired: its face readings are of the old face."""
    fire(shift)
    fired = shift.entry(MAIN).face_m
    shift.wait(minutes=5)
    known = rounds(shift.site, shift.place(MAIN).id)[-1]
    record(shift.site, look_again(shift.site, known.id, shift.who()), shift.who())

    assert shift.entry(MAIN).face_m == fired


def test_a_round_begun_before_the_firing_brings_no_face_back(shift: Shift) -> None:
    """Its draft lay open while the next round was fired."""
    work = shift.look()
    place = shift.place()
    fired_at = work.began.started_at + timedelta(minutes=1)
    shift.clock.at, signed_at = fired_at, shift.clock.at
    report_event(shift.site, place.id, "fired", Decimal("307"), None, fired_m=Decimal("4.0"))
    fired = face(shift.site, place).chainage_m
    shift.clock.at = signed_at
    shift.sign(work, "sent back")

    assert face(shift.site, place).chainage_m == fired


def test_an_inspection_that_stopped_short_leaves_the_event_beyond_it(shift: Shift) -> None:
    place = shift.place(MAIN).id
    report_event(shift.site, place, "vehicle strike", Decimal(200), None)
    report_event(shift.site, place, "vehicle strike", Decimal(500), None)
    shift.wait(minutes=1)
    inspect(shift.site, place, shift.who(), up_to_m=Decimal(300))

    assert shift.entry(MAIN).line_m == Decimal(495)


def test_an_inspection_that_came_too_early_can_be_made_once_more(shift: Shift) -> None:
    """It was stated on a tablet whose clock was ahead of the event's."""
    place = shift.place(MAIN).id
    fire(shift)
    with pytest.raises(TooEarly):
        inspect(shift.site, place, shift.who(), up_to_m=FAR)
    looked(shift)

    assert shift.entry(MAIN).verdict is Verdict.NOT_LOOKED_AT


def test_a_long_exclusion_is_told_with_its_date(shift: Shift) -> None:
    """Until 21:30 of which day: half a night or a night and a day makes a difference."""
    shift.wait(hours=9)
    report_event(shift.site, shift.place(MAIN).id, "seismic", Decimal(600), None)

    assert "7 May 2031 06:3" in shift.entry(MAIN).because[0]


def test_a_no_entry_typed_far_beyond_the_face_closes_the_whole_heading(shift: Shift) -> None:
    """1386.4 typed without its point: nobody knows where it was meant."""
    notice = say_no_entry(shift.site, shift.place(MAIN).id, Decimal(6114), None)
    state = shift.entry(MAIN)

    assert (notice.body.from_m, state.line_m) == (Decimal(6114), Decimal(0))


@pytest.mark.parametrize(("typed_m", "held_m"), [("650.00", "570"), ("6120.00", "532.02")])
def test_a_tremor_typed_where_it_would_reach_nothing_counts_at_the_face(
    shift: Shift, typed_m: str, held_m: str
) -> None:
    """Face at 612.02 m, 80 m around: 650 m may be rock beyond the face, 6120 m is a slip."""
    report_event(shift.site, shift.place(MAIN).id, "seismic", Decimal(typed_m), shift.who())

    assert shift.entry(MAIN).line_m == Decimal(held_m)


def test_a_no_entry_just_beyond_the_face_takes_the_last_two_rows(shift: Shift) -> None:
    before = shift.entry(MAIN)
    say_no_entry(shift.site, shift.place(MAIN).id, before.face_m + 1, None)

    assert shift.entry(MAIN).line_m == before.line_m - Decimal("1.8")


# --- time -------------------------------------------------------------------------------------


def test_a_permission_that_ended_hides_no_place_that_somebody_closed(shift: Shift) -> None:
    """No barrier stands where a permission ended: the open one farther in is still told."""
    place = shift.place(MAIN).id
    until = shift.clock() + timedelta(hours=1)
    restrict(shift.site, place, Decimal(300), shift.who(), to="light vehicles", until=until)
    say_no_entry(shift.site, place, Decimal(600), None)
    shift.wait(hours=2)
    state = shift.entry(MAIN)

    assert (state.state, state.line_m) == ("no entry, barrier not yet up", Decimal(300))


def test_a_permission_does_not_come_back_with_the_clock(shift: Shift) -> None:
    place = shift.place(MAIN).id
    until = shift.clock() + timedelta(hours=1)
    restrict(shift.site, place, Decimal(300), shift.who(), to="light vehicles", until=until)
    shift.wait(hours=2)
    report_event(shift.site, shift.place(READY).id, "water change", Decimal(10), None)
    shift.wait(hours=-2)

    assert shift.entry(MAIN).state == "barricaded"


def test_of_two_permissions_the_one_that_ends_first_is_told(shift: Shift) -> None:
    place, who = shift.place(MAIN).id, shift.who()
    first, later = (shift.clock() + timedelta(hours=hours) for hours in (2, 6))
    restrict(shift.site, place, Decimal(300), who, to="light vehicles", until=later)
    restrict(shift.site, place, Decimal(400), who, to="two people", until=first)

    assert shift.entry(MAIN).until == first


def test_ground_that_is_restricted_is_not_told_as_open_up_to_the_line(shift: Shift) -> None:
    before = shift.entry(MAIN)
    restrict(shift.site, shift.place(MAIN).id, Decimal(300), shift.who(), to="light vehicles")
    state = shift.entry(MAIN)

    assert state.line_m == before.line_m
    assert (state.state, state.outbye) == ("restricted", "restricted")


def test_a_barrier_that_stands_is_taken_down_before_anything_is_lifted(shift: Shift) -> None:
    notice = say_no_entry(shift.site, shift.place(MAIN).id, Decimal(300), None)
    with pytest.raises(NotToBeLifted):
        lift(shift.site, notice.id, shift.who(), barrier_down=False)


# --- old rows -----------------------------------------------------------------------------------


def test_old_rows_with_a_bolt_missing_hold_the_line_before_them(shift: Shift) -> None:
    """They were confirmed, and confirmed as not whole: the joint is no last complete row."""
    work = shift.look(Look(answers={"old row 1": Decimal(7)}))
    body = shift.sign(work, "sent back").sign_off.body

    assert body.entry_line_m < work.seen.old_rows[0].chainage_m


def test_a_round_recorded_unsigned_leaves_its_old_rows_closed(shift: Shift) -> None:
    work = shift.look(on_disk=True)
    record(shift.site, work, shift.who())

    assert shift.entry().line_m == work.seen.joint_m - Decimal("1.8")
