"""Whatever is marked in a round, what is asked and what the checks want to see are one thing."""

from dataclasses import replace
from datetime import timedelta
from functools import cache

from hypothesis import given, settings
from hypothesis import strategies as st

from fieldapp.assess import assess
from fieldapp.work.demanded import positions_there, torque_positions_in_round
from fieldapp.work.demo.scenarios import CONFORMING, TORQUE_LOW, Scenario, work_of
from fieldapp.work.demo.walking import Look, Looker, StoryClock, answered
from fieldapp.work.questions import Known
from fieldapp.work.questions.drawn import places_drawn, spacing_drawn
from fieldapp.work.round import RoundWork
from fieldapp.work.touches import BoltMarked
from schemas.bodies.round import BoltSeen
from schemas.findings import Verdict
from tests.demo_mine import PRESENT
from tests.standards import changed

LATER = PRESENT + timedelta(hours=1)
TORQUED = replace(TORQUE_LOW, look=Look())
STATES = ("missing", "broken", "blocked hole", "present")

marks = st.tuples(st.integers(1, 4), st.integers(1, 6), st.sampled_from(STATES))
scenarios = st.sampled_from([CONFORMING, TORQUED])


@cache
def looked(scenario: Scenario) -> RoundWork:
    return work_of(scenario, changed(lambda _document: None), PRESENT)


def marked(work: RoundWork, at: tuple[int, int, str]) -> RoundWork:
    row, position, state = at
    plate = "seated" if state == "present" else None
    bolt = BoltSeen.model_validate({"position": position, "state": state, "plate": plate})
    return work.touched(BoltMarked(at=LATER, row=row, bolt=bolt))


def with_all(work: RoundWork, those: list[tuple[int, int, str]]) -> RoundWork:
    for one in those:
        work = marked(work, one)
    return work


@settings(max_examples=60, deadline=None)
@given(scenarios, st.booleans(), st.lists(marks, max_size=8))
def test_only_bolts_that_are_there_are_drawn_or_asked_for(
    scenario: Scenario,
    begun: bool,  # noqa: FBT001
    those: list[tuple[int, int, str]],
) -> None:
    work = replace(looked(scenario), touches=()) if begun else looked(scenario)
    work = with_all(work, those)
    there = {
        (row.number, position)
        for row in work.bolted
        for position in positions_there(work, row.number)
    }
    pairs = [(row.number, spacing_drawn(work, row.number)) for row in work.bolted]

    assert set(places_drawn(work)) <= there
    assert len({row for row, _ in places_drawn(work)}) == 3
    assert {place for _, place in torque_positions_in_round(work)} <= there
    assert {(row, at) for row, pair in pairs for at in pair or ()} <= there


@settings(max_examples=25, deadline=None)
@given(scenarios, st.lists(marks, max_size=6))
def test_once_everything_was_answered_nothing_is_not_looked_at(
    scenario: Scenario, those: list[tuple[int, int, str]]
) -> None:
    work = with_all(looked(scenario), those)
    looker = Looker(StoryClock(LATER), None, Known(crews=("crew A",)))
    done = answered(work, Look(), looker, RoundWork.touched)
    found = assess(done.bundle(LATER + timedelta(hours=2))).findings

    assert [it.check for it in found if it.verdict is Verdict.NOT_LOOKED_AT] == []
    missing = any(not bolt.counts for row in done.bolted for bolt in row.bolts.positions)
    assert not (missing and all(it.lets_sign for it in found))
