"""A test that was typed wrong is put right by who made it; a doubt it opened stays open."""

from decimal import Decimal
from typing import Any

import pytest

from fieldapp.work.batches import decide_batch, in_doubt
from fieldapp.work.bolt_tests.correcting import (
    Corrected,
    NothingCorrected,
    before,
    correct_bolt_test,
    lets_a_failure_go,
    to_correct,
)
from fieldapp.work.bolt_tests.draft import (
    ANEW,
    BoltTestWork,
    begin_bolt_test,
    begin_correction,
    keep_bolt_test,
    keep_test_touch,
)
from fieldapp.work.bolt_tests.pick import PickFrom
from fieldapp.work.bolt_tests.put_right import is_put_right, question_of_correction
from fieldapp.work.bolt_tests.recording import BoltTestKnown, bolt_test, heading_tests
from fieldapp.work.demo.story import MAIN
from fieldapp.work.roles import NotYours
from fieldapp.work.said_touches import SaidTouch
from fieldapp.work.standard_in_force import in_force
from fieldapp.work.writing import state
from schemas.numbers import text
from tests.unit.work.bolt_tests.test_recording import READINGS, TECHNICIAN, fails, keep
from tests.unit.work.conftest import Shift

BATCH = "RB24-0731"
ENGINEER, SUPERVISOR = "Geotechnical engineer", "Day supervisor"


def put_right(
    shift: Shift,
    known: BoltTestKnown,
    /,
    who: str = TECHNICIAN,
    because: str | None = "gauge misread",
    **said: Any,
) -> Corrected:
    body = known.test.model_copy(update={"corrected_because": because, **said})
    done = correct_bolt_test(shift.site, known.id, body, shift.who(who), all_the_same=False)
    shift.wait(minutes=1)
    return done


def test_what_a_failed_test_opened_is_looked_at_again_once_it_is_put_right(shift: Shift) -> None:
    failed = fails(shift).known
    done = put_right(shift, failed, ENGINEER, broke="nothing")
    known = heading_tests(shift.site, shift.place(MAIN).id, shift.clock())

    assert (done.before.outcome, done.recorded.known.result.outcome) == ("failed", "passed")
    assert (known.opened, shift.entry(MAIN).failed_tests) == ((), ())
    assert [it.id for it in known.tests] == [failed.id], "one test, not two"
    (first,) = before(shift.site, failed.id, failed.heading_id)
    assert (first.result.because, first.test.broke) == (failed.result.because, "anchor slipped")


@pytest.mark.parametrize(
    "said",
    [
        {"broke": "nothing"},
        {"chainage_m": Decimal("608.4")},
        {"zone": "left wall"},
        {"part_of_support": False},
    ],
)
def test_whoever_made_a_failed_test_cant_let_it_go_alone(
    shift: Shift, said: dict[str, Any]
) -> None:
    """It would pass, or another bolt would have failed: the first stands all the same."""
    failed = fails(shift).known
    assert lets_a_failure_go(shift.site, failed.id, failed.test.model_copy(update=said))
    before_it = heading_tests(shift.site, failed.heading_id, shift.clock()).opened
    put_right(shift, failed, because="wrong bolt", **said)
    put_right(shift, failed, because="wrong bolt", note="it was a moment ago", **said)
    known = bolt_test(shift.site, failed.id)

    assert (known.entry, known.result) == (failed.entry, failed.result)
    assert known.waits is not None
    assert known.waits.test.corrected_because == "wrong bolt"
    assert heading_tests(shift.site, failed.heading_id, shift.clock()).opened == before_it != ()
    (stands,) = shift.entry(MAIN).failed_tests
    assert (stands.test_id, stands.place) == (failed.id, "590.4 m, back")


def test_an_engineer_agrees_by_stating_the_same_and_others_cant(shift: Shift) -> None:
    failed = fails(shift).known
    put_right(shift, failed, broke="nothing")
    waits = bolt_test(shift.site, failed.id)
    theirs = BoltTestKnown(
        waits.heading_id, waits.heading, waits.entry, to_correct(waits), waits.result
    )
    with pytest.raises(NothingCorrected):
        put_right(shift, theirs)
    put_right(shift, theirs, ENGINEER, because="agreed")

    known = bolt_test(shift.site, failed.id)
    assert (known.result.outcome, known.waits) == ("passed", None)
    assert shift.entry(MAIN).failed_tests == ()


def test_a_correction_by_which_the_same_bolt_fails_all_the_same_needs_nobody(shift: Shift) -> None:
    failed = fails(shift).known
    thread = failed.test.model_copy(update={"broke": "thread"})
    assert not lets_a_failure_go(shift.site, failed.id, thread)
    put_right(shift, failed, because="typed wrong", broke="thread")
    known = bolt_test(shift.site, failed.id)

    assert (known.test.broke, known.waits) == ("thread", None)


def test_on_the_tablet_one_key_of_an_engineer_agrees(shift: Shift) -> None:
    failed = fails(shift).known
    put_right(shift, failed, broke="nothing")
    work = begin_correction(shift.site, failed.id, shift.who(ENGINEER))
    agree = question_of_correction(work, pick(shift)).choices[0]
    work = touch(shift, work, agree.says)
    kept = keep_bolt_test(shift.site, work, shift.who(ENGINEER)).known

    assert (agree.label, kept.test.corrected_because) == ("agree", "agreed: gauge misread")
    assert bolt_test(shift.site, failed.id).result.outcome == "passed"


def test_a_doubt_of_its_batch_is_never_closed_by_a_correction(shift: Shift) -> None:
    failed = fails(shift, batch=BATCH).known
    done = put_right(shift, failed, broke="nothing")

    assert done.still_doubted == BATCH
    assert [it.label for it in in_doubt(shift.site)] == [BATCH]


def test_a_test_that_fails_only_once_it_is_put_right_puts_its_batch_in_doubt(shift: Shift) -> None:
    passed = keep(shift, batch=BATCH).known
    done = put_right(shift, passed, broke="anchor slipped")

    assert done.recorded.doubted == BATCH
    assert [it.test_id for it in shift.entry(MAIN).failed_tests] == [passed.id]


def test_a_batch_that_an_engineer_cleared_is_not_doubted_again_over_a_note(shift: Shift) -> None:
    failed = fails(shift, batch=BATCH).known
    decide_batch(shift.site, BATCH, shift.who(ENGINEER), decision="cleared", reason="pulled five")
    shift.wait(minutes=1)
    done = put_right(shift, failed, note="the bolt beside the vent")

    assert (done.recorded.doubted, in_doubt(shift.site)) == (None, ())


def test_only_who_made_it_or_an_engineer_puts_it_right(shift: Shift) -> None:
    failed = fails(shift).known

    with pytest.raises(NotYours):
        put_right(shift, failed, SUPERVISOR, broke="nothing")
    assert bolt_test(shift.site, failed.id).result.failed
    assert put_right(shift, failed, ENGINEER, broke="nothing").recorded.known.entry.parents
    again = put_right(shift, bolt_test(shift.site, failed.id), TECHNICIAN, note="as the engineer")
    assert again.recorded.known.test.note == "as the engineer"


def test_a_revision_by_somebody_else_counts_nowhere(shift: Shift) -> None:
    """Another tablet may hold a program that lets anybody write one."""
    failed = fails(shift).known
    body = failed.test.model_copy(update={"broke": "nothing", "corrected_because": "so it was"})
    theirs, parents = shift.who(SUPERVISOR).person_id, (failed.entry.revision,)
    state(shift.site, "bolt_test", body, author=theirs, thing_id=failed.id, parents=parents)

    assert bolt_test(shift.site, failed.id).result.failed


@pytest.mark.parametrize("because", [None, "gauge misread"])
def test_without_a_reason_or_a_change_there_is_nothing_to_correct(
    shift: Shift, because: str | None
) -> None:
    failed = fails(shift).known
    said = {"broke": "nothing"} if because is None else {}

    with pytest.raises(NothingCorrected):
        put_right(shift, failed, because=because, **said)


def pick(shift: Shift) -> PickFrom:
    standard = in_force(shift.site, shift.clock()).body
    face_m = shift.entry(MAIN).face_m
    return PickFrom(standard, (), face_m, (), (), (), shift.clock())


def touch(shift: Shift, work: BoltTestWork, *says: dict[str, Any]) -> BoltTestWork:
    for it in says:
        work = keep_test_touch(shift.site, work, SaidTouch(at=shift.clock(), says=it))
    return work


def test_on_the_tablet_one_touch_asks_anew_what_was_stated_and_then_why(shift: Shift) -> None:
    failed = fails(shift, chainage_m="590.4").known
    work = begin_correction(shift.site, failed.id, shift.who(TECHNICIAN))
    asked = question_of_correction(work, pick(shift))
    shift.wait(minutes=9)
    work = touch(shift, work, {ANEW: "pulled"})
    readings = question_of_correction(work, pick(shift))
    load = [{"load_now": it["load_kn"]} for it in READINGS]
    came = [{"displacement_mm": it["displacement_mm"]} for it in READINGS]
    work = touch(shift, work, load[0], came[0], load[1], came[1], {"no_more": True})
    why = question_of_correction(work, pick(shift))
    work = touch(shift, work, {ANEW: "broke"}, {"broke": "nothing"})
    assert not is_put_right(work, question_of_correction(work, pick(shift)))
    work = touch(shift, work, {"corrected_because": "typed wrong"})

    assert (asked.key, readings.key, why.key) == (ANEW, "load 0", "corrected_because")
    assert "590.4 m" in [it.label for it in asked.choices]
    assert is_put_right(work, question_of_correction(work, pick(shift)))
    kept = keep_bolt_test(shift.site, work, shift.who(TECHNICIAN)).known
    assert (kept.id, kept.test.tested_at) == (failed.id, failed.test.tested_at)
    assert (kept.result.outcome, text(kept.test.pulled[-1].load_kn)) == ("passed", "85")


def test_a_correction_that_was_begun_is_gone_on_with_and_is_no_new_test(shift: Shift) -> None:
    failed = fails(shift).known
    work = begin_correction(shift.site, failed.id, shift.who(TECHNICIAN))
    shift.reopened()

    assert begin_correction(shift.site, failed.id, shift.who(TECHNICIAN)).test_id == work.test_id
    fresh = begin_bolt_test(shift.site, failed.heading_id, {})
    assert fresh.about.corrects is None
