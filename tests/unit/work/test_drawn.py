"""What the app draws in a round is there to be looked at, spread out, and never drawn again."""

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal
from functools import cache

import pytest

from fieldapp.assess import assess
from fieldapp.work.demanded import places_in_round, torque_positions_in_round
from fieldapp.work.demo.scenarios import CONFORMING, TORQUE_LOW, Scenario, work_of
from fieldapp.work.demo.walking import Look, Looker, StoryClock, answered
from fieldapp.work.questions import Asker, Known, Question, questions
from fieldapp.work.questions.drawn import places_drawn, spacing_drawn
from fieldapp.work.round import RoundWork
from fieldapp.work.touches import AnyTouch, BoltMarked, RowsPlanned, SpotAnswered
from schemas.bodies.round import BoltSeen
from schemas.findings import Finding, Verdict
from tests.demo_mine import PRESENT
from tests.standards import changed

STANDARD = changed(lambda _document: None)
KNOWN = Known(crews=("crew A",))
LATER = PRESENT + timedelta(hours=1)
TORQUED = replace(TORQUE_LOW, look=Look())


@cache
def looked(scenario: Scenario = CONFORMING) -> RoundWork:
    return work_of(scenario, STANDARD, PRESENT)


def untouched(number: int = 0) -> RoundWork:
    return replace(looked(), round_id=f"round {number}", touches=())


def marked(work: RoundWork, row: int, position: int, state: str = "missing") -> RoundWork:
    bolt = BoltSeen.model_validate({"position": position, "state": state})
    if state == "present":
        bolt = bolt.model_copy(update={"plate": "seated"})
    return work.touched(BoltMarked(at=LATER, row=row, bolt=bolt))


def finding(work: RoundWork, check: str) -> Finding:
    found = assess(work.bundle(LATER + timedelta(hours=1))).findings
    return next(it for it in found if it.check == check)


def asked(work: RoundWork, stage: str) -> dict[str, Question]:
    found = questions(work, Asker(LATER, None), KNOWN)
    return {it.key: it for it in found if it.stage == stage}


def looked_on(work: RoundWork) -> RoundWork:
    return answered(work, Look(), Looker(StoryClock(LATER), None, KNOWN), RoundWork.touched)


# --- three bolts --------------------------------------------------------------------------------


@pytest.mark.parametrize("number", range(40))
def test_the_three_bolts_stand_in_three_rows(number: int) -> None:
    drawn = places_drawn(untouched(number))

    assert len({row for row, _ in drawn}) == 3
    assert set(drawn) <= set(places_in_round(untouched(number)))


def test_other_rounds_draw_other_bolts() -> None:
    assert len({places_drawn(untouched(number)) for number in range(40)}) > 30


@pytest.mark.parametrize(("rows", "drawn_in"), [(1, [1, 1, 1]), (2, [1, 1, 2])])
def test_with_fewer_rows_they_are_spread_as_far_as_rows_go(rows: int, drawn_in: list[int]) -> None:
    shorter = untouched().touched(RowsPlanned(at=PRESENT, rows=rows))
    found = [row for row, _ in places_drawn(shorter)]

    assert sorted(found.count(row) for row in set(found)) == sorted(
        drawn_in.count(row) for row in set(drawn_in)
    )


@pytest.mark.parametrize("state", ["missing", "broken", "blocked hole"])
def test_a_bolt_that_is_not_there_is_not_drawn(state: str) -> None:
    work = untouched()
    row, position = places_drawn(work)[0]
    without = places_drawn(marked(work, row, position, state))

    assert (row, position) not in without
    assert len({number for number, _ in without}) == 3
    assert set(places_drawn(work)) - {(row, position)} < set(without)


def test_what_was_looked_at_is_never_drawn_again() -> None:
    work = looked()
    first, *others = places_drawn(work)
    gone = marked(work, *first)
    longer = gone.touched(RowsPlanned(at=LATER, rows=9))

    assert set(others) < set(places_drawn(gone))
    assert set(others) < set(places_drawn(longer))


def test_a_drawn_bolt_that_is_marked_missing_is_another_one_to_look_at() -> None:
    work = looked()
    row, position = places_drawn(work)[0]
    gone = marked(work, row, position)
    left = [it for it in asked(gone, "drawn").values() if not it.answered]

    assert [it.row for it in left] == [row]
    assert left[0].position != position
    assert finding(gone, "plates_seated").verdict is Verdict.NOT_LOOKED_AT
    then = gone.touched(left[0].choices[0].touch)
    assert all(it.answered for it in asked(then, "drawn").values())
    assert finding(then, "plates_seated").verdict is Verdict.ACCEPT


def test_a_bolt_put_in_for_a_missing_one_is_not_known_by_the_look_at_the_old_one() -> None:
    work = looked()
    row, position = places_drawn(work)[0]
    again = marked(marked(work, row, position), row, position, "present")
    left = [it for it in asked(again, "drawn").values() if not it.answered]

    assert [(it.row, it.position) for it in left] == [(row, position)]
    assert finding(again, "plates_seated").verdict is Verdict.NOT_LOOKED_AT


def test_the_answer_about_a_bolt_drawn_in_its_place_is_kept() -> None:
    touch: AnyTouch = SpotAnswered(at=LATER, row=2, position=8, plate_gap="> 20 mm")

    assert finding(looked().touched(touch), "plates_seated").verdict is Verdict.REWORK


# --- one spacing a row --------------------------------------------------------------------------


def test_a_spacing_is_taped_between_bolts_that_are_there() -> None:
    work = untouched()
    pair = spacing_drawn(work, 2)
    assert pair is not None
    without = spacing_drawn(marked(work, 2, pair[0]), 2)

    assert without is not None
    assert pair[0] not in without
    assert without[1] - without[0] == 1


def test_what_was_taped_to_a_bolt_that_is_not_there_is_taped_again() -> None:
    work = looked()
    pair = spacing_drawn(work, 2)
    assert pair is not None
    gone = marked(work, 2, pair[1])

    assert not asked(gone, "rows")["spacing 2"].answered
    assert finding(gone, "bolt_spacing").verdict is Verdict.NOT_LOOKED_AT


def test_what_was_taped_stays_drawn_whatever_else_is_marked() -> None:
    work = looked()
    pair = spacing_drawn(work, 2)
    assert pair is not None
    elsewhere = next(at for at in range(1, 10) if at not in pair)

    assert spacing_drawn(marked(work, 2, elsewhere), 2) == pair


def test_a_row_of_which_one_bolt_is_left_has_no_spacing_to_tape() -> None:
    work = untouched()
    for position in range(1, 9):
        work = marked(work, 3, position)

    assert spacing_drawn(work, 3) is None
    assert "spacing 3" not in asked(work, "rows")


# --- torque -------------------------------------------------------------------------------------


def numbers(work: RoundWork) -> list[int]:
    return [bolt for bolt, _ in torque_positions_in_round(work)]


def place_of(work: RoundWork, bolt: int) -> tuple[int, int]:
    return places_in_round(work)[bolt - 1]


@pytest.mark.parametrize("state", ["missing", "broken", "blocked hole"])
def test_a_missing_bolt_s_torque_is_the_next_bolt_s(state: str) -> None:
    """30 CFR 57.3203(f)(2): the first, every tenth and the last of those installed."""
    work = looked(TORQUED)
    first, tenth, *_, last = numbers(work)
    gone = marked(work, *place_of(work, tenth), state)

    assert (first, tenth) == (1, 10)
    assert numbers(gone)[:2] == [1, 11]
    assert numbers(marked(work, *place_of(work, 1), state))[0] == 2
    assert numbers(marked(work, *place_of(work, last), state))[-1] == last - 1


def test_what_was_read_before_a_bolt_was_marked_missing_is_no_answer_any_more() -> None:
    work = looked(TORQUED)
    gone = marked(work, *place_of(work, 10))

    assert finding(work, "torque").verdict is Verdict.ACCEPT
    assert not asked(gone, "torque")["torque 11"].answered
    assert finding(gone, "torque").verdict is Verdict.NOT_LOOKED_AT


def test_a_bolt_put_in_its_place_is_read_for_itself_and_for_the_first_time() -> None:
    work = looked(TORQUED)
    row, position = place_of(work, 10)
    again = marked(marked(work, row, position), row, position, "present")
    question = asked(again, "torque")["torque 10"]
    assert question.digits is not None
    then = again.touched(question.digits.touch(Decimal(265), "tape"))

    assert not question.answered
    assert finding(again, "torque").verdict is Verdict.NOT_LOOKED_AT
    assert finding(then, "torque").verdict is Verdict.ACCEPT
    assert [it.again for it in then.seen.torques if it.bolt == 10] == [False, False]


def test_a_round_whose_bolts_were_put_in_anew_is_accepted_once_all_was_looked_at_again() -> None:
    work = looked(TORQUED)
    row, position = place_of(work, 10)
    mended = looked_on(marked(marked(work, row, position), row, position, "present"))

    assert assess(mended.bundle(LATER + timedelta(hours=2))).may_be_accepted
