"""Another number of rows makes another row the last one: what was read from it is asked again."""

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal
from functools import cache

import pytest

from fieldapp.assess import assess
from fieldapp.assess.known_face import face_read_m
from fieldapp.work.demo.scenarios import CONFORMING, TORQUE_LOW, WIDE, Scenario, work_of
from fieldapp.work.demo.walking import Look, Looker, StoryClock, answered
from fieldapp.work.questions import Asker, Known, Question, next_question, questions, rows_planned
from fieldapp.work.round import RoundWork
from fieldapp.work.touches import (
    HastyAnswered,
    HoleFound,
    LapRead,
    MeshWhole,
    RowCounted,
    RowsPlanned,
    Undone,
    read_touch,
)
from schemas.bodies.round import HoleSeen
from tests.demo_mine import PRESENT
from tests.standards import changed

STANDARD = changed(lambda _document: None)
ASKER = Asker(PRESENT, None)
AGAIN = "Asked again: row {row} is the last row now."
KNOWN = Known(crews=("crew A",))
LAST_ROW = ("mesh to face", "last row marked", "face left", "face middle", "face right")
"""What is read of the last row of a D1 round, in the order in which it is asked."""


@cache
def looked(scenario: Scenario = CONFORMING) -> RoundWork:
    """Look at a whole round: five rows of D1, four of O2 and W3."""
    return work_of(scenario, STANDARD, PRESENT)


def untouched() -> RoundWork:
    return replace(looked(), touches=())


def planned(work: RoundWork, rows: int) -> RoundWork:
    return work.touched(rows_planned(work, ASKER, rows))


def asked(work: RoundWork) -> tuple[Question, ...]:
    return questions(work, ASKER, KNOWN)


def question(work: RoundWork, key: str) -> Question:
    return next(it for it in asked(work) if it.key == key)


def unanswered(work: RoundWork) -> list[str]:
    return [it.key for it in asked(work) if not it.answered]


def looked_on(work: RoundWork) -> RoundWork:
    """Go on until nothing is asked any more."""
    looker = Looker(StoryClock(PRESENT + timedelta(hours=1)), None, KNOWN)
    return answered(work, Look(), looker, RoundWork.touched)


def hurried(work: RoundWork, *rows: int) -> RoundWork:
    """Count rows in one breath."""
    for row in rows:
        work = work.touched(RowCounted(at=PRESENT, row=row, plates=9))
    return work


# --- what belongs to the last row ---------------------------------------------------------------


def test_fewer_rows_ask_for_the_last_row_again() -> None:
    shorter = planned(looked(), 4)
    left = [key for key in unanswered(shorter) if not key.startswith("spot")]

    assert left == list(LAST_ROW)
    assert face_read_m(shorter.seen) is None


def test_more_rows_ask_for_the_last_row_and_all_of_the_mesh_again() -> None:
    longer = planned(looked(), 6)
    rows = ["ahead 6", "count 6", "spacing 6"]
    (to_face, *face), mesh = LAST_ROW, ["mesh above floor", "mesh whole"]

    assert unanswered(longer) == [*rows, to_face, *mesh, *face]


def test_when_the_last_bolt_was_in_is_asked_again() -> None:
    """Where bolts cure: the last one of the round is another one."""
    assert "finished" not in unanswered(looked(WIDE))
    assert unanswered(planned(looked(WIDE), 5))[0] == "finished"
    assert question(planned(looked(WIDE), 5), "finished").hint == AGAIN.format(row=5)


@pytest.mark.parametrize("key", LAST_ROW)
def test_the_question_says_why_it_is_asked_again(key: str) -> None:
    why = AGAIN.format(row=4)
    before, after = question(looked(), key).hint, question(planned(looked(), 4), key).hint

    assert after.startswith(why)
    assert why not in before


def test_why_it_is_asked_again_is_said_until_it_is_answered() -> None:
    shorter = planned(planned(looked(), 6), 4)
    again = question(looked_on(shorter), "face left")

    assert question(shorter, "face left").hint.startswith("Asked again: row 4")
    assert again.answered
    assert not again.hint.startswith("Asked again")


def test_what_was_never_answered_is_not_asked_again() -> None:
    fresh = planned(untouched(), 4)

    assert not any(it.hint.startswith("Asked again") for it in asked(fresh))


def test_the_same_number_of_rows_takes_nothing_away() -> None:
    assert planned(looked(), 5).seen == looked().seen


def test_undo_gives_everything_back() -> None:
    back = planned(planned(looked(), 3), 7).touched(Undone(at=PRESENT)).touched(Undone(at=PRESENT))

    assert back.seen == looked().seen
    assert next_question(asked(back)) is None


def test_a_round_looked_at_again_says_why_too() -> None:
    """Its readings are of the record, not of this draft."""
    again = replace(untouched(), began=looked().seen)

    assert question(planned(again, 4), "face left").hint.startswith("Asked again: row 4")


# --- what is not there any more -----------------------------------------------------------------


def test_a_lap_that_is_gone_leaves_no_reading_behind() -> None:
    """Two rows show one lap: the second was read too short, and must not come back with row 3."""
    short = looked().touched(LapRead(at=PRESENT, lap=2, openings=1))
    two, five = planned(short, 2), planned(planned(short, 2), 5)

    assert [lap.number for lap in two.seen.laps] == [1]
    assert not question(five, "lap 2").answered


def test_a_row_that_is_gone_leaves_nothing_behind() -> None:
    again = planned(planned(looked(), 4), 5)

    assert {"ahead 5", "count 5", "spacing 5"} <= set(unanswered(again))


def test_a_torque_of_a_bolt_that_is_gone_leaves_no_reading_behind() -> None:
    """Rows of O2 with torque: the last bolt of four rows is no bolt of three."""
    whole = looked(TORQUE_LOW)
    last = max(read.bolt for read in whole.seen.torques)
    back = planned(planned(whole, 3), 4)

    assert last not in {read.bolt for read in planned(whole, 3).seen.torques}
    assert last not in {read.bolt for read in back.seen.torques}


def test_a_hole_that_was_marked_stays_where_it_is() -> None:
    hole = HoleSeen(chainage_m=Decimal(1387), s_m=Decimal(0), openings=4, above_floor_m=Decimal(4))
    marked = looked().touched(HoleFound(at=PRESENT, hole=hole)).touched(MeshWhole(at=PRESENT))

    assert planned(marked, 4).seen.mesh.holes == (hole,)
    assert planned(marked, 6).seen.mesh.holes == (hole,)


# --- what deters --------------------------------------------------------------------------------


def test_fewer_rows_are_no_way_round_the_drawn_bolts() -> None:
    """Counted as rows of a long round, they had hardly a bolt drawn among them."""
    long = planned(untouched(), 40)
    for row in (1, 2):
        long = long.touched(question(long, f"count {row}").choices[0].touch)
    short = planned(long, 2)

    assert len([it for it in asked(short) if it.stage == "drawn"]) == 3


def test_the_bolts_drawn_before_stay_drawn() -> None:
    def drawn(work: RoundWork) -> set[str]:
        return {it.key for it in asked(work) if it.stage == "drawn"}

    gone = {key for key in drawn(looked()) if key.startswith("spot 5")}

    assert drawn(looked()) - gone <= drawn(planned(looked(), 4))


def test_rows_counted_in_a_breath_are_asked_about_also_when_one_of_them_is_gone() -> None:
    hasty = planned(hurried(untouched(), 1, 2, 3), 2)
    haste = question(hasty, "haste 1, 2, 3")

    assert haste.row == 2


def test_looking_again_brings_back_no_row_that_is_gone() -> None:
    hasty = planned(hurried(untouched(), 1, 2, 3), 2)
    said = hasty.touched(HastyAnswered(at=PRESENT, rows=(1, 2, 3), answer="look again"))

    assert [row.number for row in said.seen.rows] == [1, 2]
    assert {"count 1", "count 2"} <= set(unanswered(said))


# --- older drafts -------------------------------------------------------------------------------


def test_a_draft_of_an_older_version_asks_for_every_lap_again() -> None:
    """Its touch says the number of rows and nothing of laps or bolts."""
    line = b'{"at":"2031-05-06T09:00:00Z","what":"rows planned","rows":4}'
    touch = read_touch(line)
    shorter = looked().touched(touch)

    assert isinstance(touch, RowsPlanned)
    assert shorter.seen.laps == ()
    assert {"lap 1", "lap 2"} <= set(unanswered(shorter))


def test_looked_at_to_its_end_it_can_be_accepted_again() -> None:
    """Nothing that was taken away is left without a question."""

    def accepted(work: RoundWork) -> bool:
        return assess(work.bundle(PRESENT + timedelta(hours=2))).may_be_accepted

    assert not accepted(planned(looked(), 4))
    assert accepted(looked_on(planned(looked(), 4)))
    assert accepted(looked_on(planned(looked(), 6)))
