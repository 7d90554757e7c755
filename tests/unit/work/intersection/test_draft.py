"""A new intersection on its way: each answer on disk, undone, gone on with, and then stated."""

from decimal import Decimal
from typing import Any

import pytest

from fieldapp.work.asked import Asked, Digits
from fieldapp.work.demo.story import JUNCTION, READY
from fieldapp.work.intersection.draft import (
    IntersectionWork,
    begin_correction,
    begin_intersection,
    begun_intersections,
    discard_intersection,
    keep_intersection,
    keep_intersection_touch,
    undo_intersection,
)
from fieldapp.work.intersection.questions import question_now
from fieldapp.work.intersection.steps import heads_of, intersections, put_in
from fieldapp.work.place_chained import PlaceInDoubt
from fieldapp.work.roles import NotYours
from fieldapp.work.rounds import open_rounds
from fieldapp.work.said_touches import SaidTouch
from fieldapp.work.standard_in_force import in_force
from tests.unit.work.at_a_junction import BOLTER, BOLTS, DAY, grouted, plated, why
from tests.unit.work.conftest import Shift
from tests.unit.work.test_rechain import BY_M, ENTERED_M, chained_anew, heading_stated

IN_THE_MAIN = ("305", "turnout to the right", "5", "4.5", "by tape", "W3", "6")
ANSWERS = ("50", "turnout to the right", "5", "4.5", "by tape", "W3", "6")


def asked(shift: Shift, work: IntersectionWork) -> Asked | None:
    standard = in_force(shift.site, shift.clock()).body
    corrects = work.about.corrects
    before = heads_of(shift.site, corrects)[0].body if corrects else None
    return question_now(work, standard, before)


def say(shift: Shift, work: IntersectionWork, answer: str) -> IntersectionWork:
    """Give an answer as it stands on a chip, or as it is typed."""
    question = asked(shift, work)
    assert question is not None
    says: dict[str, Any] | None
    says = next((it.says for it in question.choices if it.label == answer), None)
    if says is None:
        assert isinstance(question.digits, Digits), f"{question.ask}: no {answer}"
        says = question.digits.says(Decimal(answer))
    shift.wait(seconds=5)
    return keep_intersection_touch(shift.site, work, SaidTouch(at=shift.clock(), says=says))


def answered(shift: Shift, *answers: str, name: str = JUNCTION) -> IntersectionWork:
    work = begin_intersection(shift.site, shift.place(name).id)
    for answer in answers or ANSWERS:
        work = say(shift, work, answer)
    return work


def test_what_was_answered_is_there_after_each_answer_when_the_tablet_is_switched_on_again(
    shift: Shift,
) -> None:
    for number in range(len(ANSWERS)):
        work = answered(shift, *ANSWERS[: number + 1])
        shift.reopened()
        assert begun_intersections(shift.site) == (work,)
        discard_intersection(shift.site, work)

    assert begun_intersections(shift.site) == ()
    assert intersections(shift.site) == ()


def test_nothing_counts_before_it_is_stated_and_whoever_holds_the_tablet_goes_on(
    shift: Shift,
) -> None:
    work = answered(shift, *ANSWERS[:-1])
    assert work.body is None
    assert shift.entry(JUNCTION).state == "entry allowed"
    assert open_rounds(shift.site, shift.place(JUNCTION).id) == ()
    shift.reopened()
    again = begin_intersection(shift.site, shift.place(JUNCTION).id)
    assert again == work
    known = keep_intersection(shift.site, say(shift, again, "6"), shift.who(DAY))

    assert begun_intersections(shift.site) == ()
    assert known.entry.id == work.draft_id
    assert known.entry.author == shift.who(DAY).person_id
    assert (known.body.from_m, known.body.to_m, known.body.cables) == (
        Decimal(50),
        Decimal("54.5"),
        6,
    )
    assert len(known.body.corners) == 8
    assert known.body.standard == in_force(shift.site, shift.clock()).entry.revision
    assert why(shift) == "restricted: cables of the junction at 50.0 m not drilled yet"


def test_undo_goes_back_through_every_answer_also_after_a_restart(shift: Shift) -> None:
    answered(shift)
    shift.reopened()
    (work,) = begun_intersections(shift.site)
    for _answer in ANSWERS:
        work = undo_intersection(shift.site, work, None)

    assert work.said == {}
    assert not work.can_undo
    assert undo_intersection(shift.site, work, None) is work


def test_a_widening_is_asked_for_its_length_and_begun_ones_wait_for_each_other(
    shift: Shift,
) -> None:
    work = answered(shift, "50", "widening", "5")
    question = asked(shift, work)

    assert question is not None
    assert question.ask == "How long is the widening?"
    assert begin_intersection(shift.site, shift.place(JUNCTION).id) == work


def test_a_place_given_before_chainages_were_measured_anew_lies_where_it_is_today(
    shift: Shift,
) -> None:
    work = answered(shift, *IN_THE_MAIN, name=READY)
    chained_anew(shift, ENTERED_M)
    known = keep_intersection(shift.site, work, shift.who(DAY))
    shift.wait(minutes=1)
    put_in(shift.site, known.id, shift.who(BOLTER), "drilled", 6, shift.clock())
    (there,) = intersections(shift.site)

    assert known.entry.body["from_m"] == "305"
    assert (there.body.step, there.body.from_m) == ("drilled", Decimal("306.4"))


def test_a_place_by_old_marks_or_by_new_ones_is_asked_once_more(shift: Shift) -> None:
    """Measured anew at nine, given at ten, heard of at eleven."""
    measured_at = shift.clock()
    shift.wait(hours=1)
    work = answered(shift, *IN_THE_MAIN, name=READY)
    shift.wait(hours=1)
    heading_stated(shift, {"from_m": str(ENTERED_M), "by_m": str(BY_M), "at": measured_at})

    with pytest.raises(PlaceInDoubt, match="305"):
        keep_intersection(shift.site, work, shift.who(DAY))
    assert begun_intersections(shift.site) == (work,)


def put_right(shift: Shift, name: str, *answers: str) -> IntersectionWork:
    work = begin_correction(shift.site, name, shift.who(DAY))
    for answer in answers:
        work = say(shift, work, answer)
    return work


RIGHT = ("52", "widening", "6", "8", "by laser", "W3", "8", "it was typed wrong")


def test_one_that_is_put_right_keeps_its_steps_and_bolts_and_is_plated_once_more(
    shift: Shift,
) -> None:
    known = grouted(shift)
    shift.wait(hours=24)
    plated(shift, known)
    shift.wait(minutes=1)
    work = put_right(shift, known.id, *RIGHT[:-1])
    assert work.body is None
    shift.reopened()
    (work,) = begun_intersections(shift.site)
    work = say(shift, work, RIGHT[-1])
    keep_intersection(shift.site, work, shift.who(DAY))
    (right,) = intersections(shift.site)

    assert right.id == known.id
    assert (right.body.step, right.body.count, right.body.bolts) == ("grouted", 12, BOLTS)
    assert (right.body.from_m, right.body.to_m, right.body.cables) == (Decimal(52), Decimal(60), 8)
    assert why(shift).endswith("at 52.0 m not plated yet: to be signed once more")


def test_only_a_supervisor_or_engineer_takes_cables_out_of_the_restriction(shift: Shift) -> None:
    known = grouted(shift)
    with pytest.raises(NotYours):
        begin_correction(shift.site, known.id, shift.who(BOLTER))
    work = put_right(shift, known.id, *RIGHT)
    with pytest.raises(NotYours):
        keep_intersection(shift.site, work, shift.who(BOLTER))

    assert begun_intersections(shift.site) == (work,)
    assert "at 50.0 m" in why(shift)
