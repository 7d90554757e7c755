"""Each worked example comes to the verdict that people expect, for the reason they expect."""

from datetime import UTC, datetime
from functools import cache

import pytest

from fieldapp.assess import assess
from fieldapp.assess.contradictions import contradictions
from fieldapp.assess.seen import seen_in
from fieldapp.work.demo.scenarios import (
    BOLT_MISSING,
    CONFORMING,
    HALF_LOOKED_AT,
    LOOSE_PLATE,
    NOT_CURED,
    OVERBREAK,
    SCENARIOS,
    SHORT_LAP,
    TWO_MISSING,
    WIDE,
    Scenario,
    looked_at,
    work_of,
)
from fieldapp.work.round import RoundWork
from schemas.findings import Assessment, Verdict
from tests.standards import changed

AT = datetime(2031, 5, 4, 5, 31, tzinfo=UTC)
STANDARD = changed(lambda document: document)
BREACHES = (Verdict.MEASURE_AGAIN, Verdict.FIX_THIS_SHIFT, Verdict.REWORK, Verdict.NO_ENTRY)

scenarios = pytest.mark.parametrize("scenario", SCENARIOS, ids=lambda it: it.name)


@cache
def looked(scenario: Scenario) -> RoundWork:
    return work_of(scenario, STANDARD, AT)


@cache
def judged(scenario: Scenario) -> Assessment:
    work = looked(scenario)
    return assess(work.bundle(looked_at(work)))


@scenarios
def test_a_scenario_comes_to_its_verdict(scenario: Scenario) -> None:
    assert judged(scenario).verdict is scenario.verdict


@scenarios
def test_a_scenario_is_about_its_checks_and_no_other(scenario: Scenario) -> None:
    breached = [it.check for it in judged(scenario).findings if it.verdict in BREACHES]

    assert set(breached) == set(scenario.checks)


@scenarios
def test_no_fact_of_a_scenario_contradicts_another(scenario: Scenario) -> None:
    work = looked(scenario)
    bundle = work.bundle(looked_at(work))

    assert contradictions(bundle, seen_in(bundle)) == ()


@scenarios
def test_the_face_of_a_scenario_s_heading_is_ahead_of_every_row(scenario: Scenario) -> None:
    work = looked(scenario)
    rows = seen_in(work.bundle(looked_at(work))).rows

    assert work.heading.face_m > rows[-1].chainage_m


@scenarios
def test_only_what_conforms_may_be_accepted(scenario: Scenario) -> None:
    assert judged(scenario).may_be_accepted is (scenario.verdict is Verdict.ACCEPT)


@scenarios
def test_a_scenario_is_the_same_every_time(scenario: Scenario) -> None:
    assert work_of(scenario, STANDARD, AT) == looked(scenario)


@pytest.mark.parametrize(
    ("scenario", "job"),
    [
        # the decline's 9 bolts stand 9.916/8 = 1.240 m apart: bolt 7 is 2.479 m right
        (BOLT_MISSING, "add a bolt, row 2, 2.5 m right of the crown"),
        (LOOSE_PLATE, "seat the plate, row 3, 1.2 m left of the crown"),
        (TWO_MISSING, "add a bolt, row 2, at the crown"),
        (SHORT_LAP, "cover lap 2 with a strip of mesh and plate it"),
        (NOT_CURED, "nobody under it until tested again: shotcrete"),
    ],
    ids=lambda it: it.name if isinstance(it, Scenario) else "",
)
def test_a_breach_names_its_job_and_place(scenario: Scenario, job: str) -> None:
    assert job in judged(scenario).fix_list


def test_a_conforming_round_is_forty_five_bolts() -> None:
    seen = looked(CONFORMING).seen

    assert sum(row.counted.plates for row in seen.rows if row.counted) == 45


def test_entry_ends_at_the_last_complete_row() -> None:
    assessment = judged(BOLT_MISSING)
    seen = looked(BOLT_MISSING).seen
    first = seen.rows[0].ahead_of_row_before

    assert first is not None
    assert assessment.rows_complete_to_m == seen.joint_m + first.value_m


def test_two_neighbours_missing_are_told_before_the_single_bolts() -> None:
    assert judged(TWO_MISSING).findings[0].check == "neighbouring_bolts"


def test_what_was_not_looked_at_is_counted_in_the_headline() -> None:
    assert judged(HALF_LOOKED_AT).headline.endswith("not looked at")


def test_overbreak_asks_for_one_bolt_more_in_each_row() -> None:
    finding = next(it for it in judged(OVERBREAK).findings if it.check == "bolts_present")

    assert len(finding.places) == 5
    assert all("1 bolt fewer than demanded" in place.words for place in finding.places)


def test_a_wide_round_waits_for_shotcrete_and_grout() -> None:
    seen = work_of(WIDE, STANDARD, AT).seen

    assert seen.shotcrete.sprayed_at is not None
    assert seen.bolter.bolting_finished_at is not None
