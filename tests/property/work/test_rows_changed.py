"""Whatever is touched in whatever order, fewer rows allow nothing more and hide no fired metre."""

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal
from functools import cache
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from fieldapp.assess import assess
from fieldapp.assess.entry.state import EntryState, HeadingFacts, RoundFact, entry_state
from fieldapp.assess.known_face import face_after_m
from fieldapp.assess.readings import face_readings, last_row_m
from fieldapp.work.demanded import laps_in_round, places_in_round
from fieldapp.work.demo.scenarios import CONFORMING, STAGGERED, WIDE, Scenario, work_of
from fieldapp.work.demo.walking import Look, Looker, StoryClock, answered
from fieldapp.work.questions import Asker, Known, rows_planned
from fieldapp.work.round import RoundWork
from fieldapp.work.touches import AnyTouch, TorqueRead, Undone
from schemas.findings import Verdict
from tests.made import STARTED_AT
from tests.standards import changed

ASKER = Asker(STARTED_AT, None)
KNOWN = Known(crews=("crew A",))
UNSAID = "face nearer"
FEW = settings(max_examples=40)
WALKED = settings(max_examples=12)
"""Each example answers a whole round, question after question."""


@cache
def looked(scenario: Scenario) -> RoundWork:
    """Look at a whole round that was fired for as many rows as there are."""
    work = work_of(scenario, changed(lambda document: document), STARTED_AT)
    last_m, readings = last_row_m(work.seen), face_readings(work.seen).values()
    known_m = last_m + max(it.value_m for it in readings)
    return replace(work, began=work.began.model_copy(update={"face_known_m": known_m}))


@st.composite
def touched(draw: Any, scenarios: tuple[Scenario, ...]) -> RoundWork:
    """Give a round touched in any order: answers, other numbers of rows, taken back at will.

    Nobody can touch a row, a lap or a bolt that the round doesn't have.
    """
    whole = looked(draw(st.sampled_from(scenarios)))
    work = replace(whole, touches=())
    answers = draw(st.permutations(whole.touches)) if draw(st.booleans()) else whole.touches
    for touch in answers[: draw(st.integers(0, len(answers)))]:
        if is_there(work, touch):
            work = work.touched(touch)
        if draw(st.integers(0, 7)) == 0:
            work = work.touched(rows_planned(work, ASKER, draw(st.integers(1, 7))))
        if draw(st.integers(0, 15)) == 0:
            work = work.touched(Undone(at=STARTED_AT))
    return work


def is_there(work: RoundWork, touch: AnyTouch) -> bool:
    row, lap, bolt = (getattr(touch, name, 0) for name in ("row", "lap", "bolt"))
    bolts = len(places_in_round(work)) if isinstance(touch, TorqueRead) else 0
    return (
        row <= work.seen.rows_planned
        and lap <= laps_in_round(work)
        and (not bolts or bolt <= bolts)
    )


def allowed_m(work: RoundWork) -> tuple[bool, Decimal]:
    """Tell whether the round may be accepted, and to where its rows are complete."""
    found = assess(work.bundle(STARTED_AT + timedelta(days=2)))
    complete_m = found.rows_complete_to_m
    return found.may_be_accepted, Decimal(0) if complete_m is None else complete_m


def as_though_accepted(work: RoundWork, face_m: Decimal) -> EntryState:
    """Give the heading's entry as though the round were accepted to its last row."""
    last_m, joint_m = last_row_m(work.seen), work.seen.joint_m
    fact = RoundFact("round", 1, joint_m, last_m, "accepted", last_m, face_m=face_m)
    facts = HeadingFacts(
        last_row_m=joint_m,
        face_m=face_m,
        fired_from_m=joint_m,
        face_allowance_m=work.support_class.limits.last_row_to_face.at_most_m,
        two_rows_m=Decimal("1.8"),
        rounds=(fact,),
    )
    return entry_state(facts, STARTED_AT)


@FEW
@given(touched((CONFORMING, STAGGERED, WIDE)), st.integers(1, 7))
def test_fewer_rows_never_allow_more(work: RoundWork, rows: int) -> None:
    fewer = work.touched(rows_planned(work, ASKER, min(rows, work.seen.rows_planned)))
    before, after = allowed_m(work), allowed_m(fewer)

    assert after[0] <= before[0]
    assert after[1] <= before[1]


@FEW
@given(touched((CONFORMING, STAGGERED, WIDE)), st.integers(1, 9))
def test_another_number_of_rows_is_never_accepted_at_once(work: RoundWork, rows: int) -> None:
    other = work.touched(rows_planned(work, ASKER, rows))
    same = rows == work.seen.rows_planned

    assert same or not allowed_m(other)[0]
    assert not same or other.seen == work.seen


@given(touched((CONFORMING,)))
def test_unsaid_no_touch_takes_the_face_outbye(work: RoundWork) -> None:
    known_m = work.began.face_known_m
    assert known_m is not None

    assert face_after_m(work.seen, known_m) >= known_m


@WALKED
@given(touched((CONFORMING, STAGGERED, WIDE)))
def test_what_can_be_accepted_unsaid_leaves_no_fired_metre_behind(work: RoundWork) -> None:
    """Looked at to its end: accepted just where the last row is near enough to the fired face.

    Were it accepted all the same, the board would show no tick, and not all as signed.
    """
    looker = Looker(StoryClock(STARTED_AT), None, KNOWN)
    done = answered(work, Look(stops_before=UNSAID), looker, RoundWork.touched)
    at_most_m = work.support_class.limits.last_row_to_face.at_most_m
    known_m = work.began.face_known_m
    assert known_m is not None

    is_near = known_m - last_row_m(done.seen) <= at_most_m
    state = as_though_accepted(done, face_after_m(done.seen, known_m))

    assert allowed_m(done)[0] == is_near
    assert (state.verdict is Verdict.ACCEPT) == is_near
    assert (state.coverage.signed_m == state.coverage.fired_m) == is_near


@given(touched((CONFORMING,)), st.lists(st.integers(1, 9), min_size=1, max_size=4))
def test_undo_gives_back_what_other_rows_took(work: RoundWork, rows: list[int]) -> None:
    other = work
    for number in rows:
        other = other.touched(rows_planned(other, ASKER, number))
    for _ in rows:
        other = other.touched(Undone(at=STARTED_AT))

    assert other.seen == work.seen
