"""Where people may go: the strictest fact wins, and prohibitions end by a person only."""

from datetime import timedelta
from decimal import Decimal
from pathlib import Path
from shutil import copytree

import pytest

from fieldapp.start import open_site
from fieldapp.work.batches import doubt_batch
from fieldapp.work.demo.story import DECLINE, MAIN
from fieldapp.work.demo.walking import Look
from fieldapp.work.deviations import NoDeviationHere, grant
from fieldapp.work.entry import coverage
from fieldapp.work.events import report_event
from fieldapp.work.notices import (
    NotToBeLifted,
    answer,
    lift,
    notices,
    restrict,
    say_no_entry,
)
from fieldapp.work.roles import NotYours
from fieldapp.work.round import RoundWork
from fieldapp.work.sign import NotToBeAccepted
from schemas.bodies.deviation import Deviation
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


# --- deviations, batches, two tablets ---------------------------------------------------------


def test_only_the_engineer_grants_a_deviation(shift: Shift) -> None:
    with pytest.raises(NotYours):
        grant(shift.site, wide_spacing(shift)[1], shift.who())


@pytest.mark.parametrize("check", ["last_row_to_face", "neighbouring_bolts"])
def test_some_checks_allow_no_deviation(shift: Shift, check: str) -> None:
    wanted = wide_spacing(shift)[1].model_copy(update={"check": check})
    with pytest.raises(NoDeviationHere):
        grant(shift.site, wanted, shift.who("Geotechnical engineer"))


@pytest.mark.parametrize(
    "change",
    [{"row": None}, {"ends_at": None}],
    ids=["for no one place", "for longer than a day"],
)
def test_a_deviation_is_for_one_place_and_a_day(shift: Shift, change: dict[str, object]) -> None:
    wanted = wide_spacing(shift)[1]
    if "ends_at" in change:
        change = {"ends_at": shift.clock() + timedelta(hours=25)}
    with pytest.raises(NoDeviationHere):
        grant(shift.site, wanted.model_copy(update=change), shift.who("Geotechnical engineer"))


def test_a_deviation_is_granted_before_the_sign_off(shift: Shift) -> None:
    signed = shift.sign(shift.look())
    late = Deviation(
        round=signed.round.id,
        check="mesh_lap",
        row=1,
        reason="late",
        ends_at=shift.clock() + timedelta(hours=1),
    )
    with pytest.raises(NoDeviationHere):
        grant(shift.site, late, shift.who("Geotechnical engineer"))


def wide_spacing(shift: Shift) -> tuple[RoundWork, Deviation]:
    work = shift.look(Look(answers={"spacing 3": Decimal("1.45")}))
    granted = Deviation(
        round=work.round_id,
        check="bolt_spacing",
        row=3,
        reason="a strap was put across",
        ends_at=shift.clock() + timedelta(hours=20),
    )
    return work, granted


def test_a_breach_under_a_granted_deviation_is_accepted(shift: Shift) -> None:
    work, granted = wide_spacing(shift)
    grant(shift.site, granted, shift.who("Geotechnical engineer"))
    body = shift.sign(work).sign_off.body

    assert [body.decision, len(body.deviations)] == ["accepted", 1]


def test_a_heading_accepted_under_a_deviation_is_barricaded_when_it_ends(shift: Shift) -> None:
    work, granted = wide_spacing(shift)
    grant(shift.site, granted, shift.who("Geotechnical engineer"))
    shift.sign(work)
    before = shift.entry().state
    shift.wait(hours=21)
    after = shift.entry()

    assert [before, after.state] == ["entry allowed", "barricaded"]
    assert after.line_m == work.seen.joint_m


def test_a_deviation_of_another_place_covers_nothing(shift: Shift) -> None:
    work, granted = wide_spacing(shift)
    elsewhere = granted.model_copy(update={"row": 2})
    grant(shift.site, elsewhere, shift.who("Geotechnical engineer"))
    with pytest.raises(NotToBeAccepted):
        shift.sign(work)


def test_a_deviation_that_has_ended_covers_nothing(shift: Shift) -> None:
    work, granted = wide_spacing(shift)
    grant(shift.site, granted, shift.who("Geotechnical engineer"))
    shift.wait(hours=21)
    with pytest.raises(NotToBeAccepted):
        shift.sign(work)


def test_a_bad_batch_closes_no_heading(shift: Shift) -> None:
    before = shift.entry(MAIN)
    doubt_batch(shift.site, "RB24-0731", shift.who(), reason="sets too slowly")

    assert shift.entry(MAIN) == before


def second_tablet(shift: Shift, folder: Path) -> Shift:
    """Give a tablet that was set up from the same image."""
    shift.site.store.close()
    copytree(shift.home, folder)
    shift.reopened()
    return Shift(folder, shift.clock, open_site(folder, now=shift.clock))


def test_two_sign_offs_that_differ_stand_side_by_side_and_the_stricter_holds(
    shift: Shift, tmp_path: Path
) -> None:
    work = shift.look()
    other = second_tablet(shift, tmp_path / "other")
    shift.sign(work)
    other.sign(work, "sent back", "Night supervisor")
    shift.site.store.ledger.add(other.site.store.ledger.all())
    other.site.store.close()
    state = shift.entry()

    assert state.verdict is Verdict.NO_ENTRY
    assert state.line_m == work.seen.joint_m
    assert "signed twice" in state.because[0]


def test_metres_signed_on_two_tablets_count_once(shift: Shift, tmp_path: Path) -> None:
    work = shift.look()
    other = second_tablet(shift, tmp_path / "other")
    shift.sign(work)
    once = coverage(shift.site, shift.place().id)
    other.sign(work, "accepted", "Night supervisor")
    shift.site.store.ledger.add(other.site.store.ledger.all())
    other.site.store.close()

    assert coverage(shift.site, shift.place().id) == once
