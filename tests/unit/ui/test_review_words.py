"""What the review says in words, and what a deviation can be granted for."""

from dataclasses import dataclass
from datetime import UTC
from functools import cache

import pytest

from fieldapp.assess import assess
from fieldapp.ui.review_work import (
    headline_words,
    jobs_words,
    may_deviate,
    places_to_grant,
    unseen_words,
    why_not,
)
from fieldapp.work.demo.scenarios import (
    AT_THE_LIMIT,
    BOLT_MISSING,
    CONFORMING,
    HALF_LOOKED_AT,
    OVERBREAK,
    RAGGED_FACE,
    TWO_MISSING,
    Scenario,
    looked_at,
    work_of,
)
from fieldapp.work.site import Session
from schemas.bodies.person import Role
from schemas.findings import Assessment, Finding
from tests.demo_mine import PRESENT
from tests.standards import changed

STANDARD = changed(lambda document: document)
ENGINEER: tuple[Role, ...] = ("geotechnical engineer",)


@cache
def judged(scenario: Scenario) -> Assessment:
    work = work_of(scenario, STANDARD, PRESENT)
    return assess(work.bundle(looked_at(work)))


@dataclass(frozen=True)
class Judged:
    """A scenario's findings by their check."""

    scenario: Scenario

    @property
    def assessment(self) -> Assessment:
        return judged(self.scenario)

    def finding(self, check: str) -> Finding:
        return next(it for it in self.assessment.findings if it.check == check)


def session(roles: tuple[Role, ...]) -> Session:
    return Session(person_id="somebody", name="Somebody", roles=roles)


def test_a_round_without_a_fault_is_said_to_be_one() -> None:
    assessment = Judged(CONFORMING).assessment

    assert headline_words(assessment) == "Every finding is accepted"
    assert jobs_words(assessment, "metres", UTC) == ("Nothing to fix", [])
    assert unseen_words(assessment) == ("All was looked at that can be seen", "")


def test_jobs_name_their_place_and_what_is_left_out_is_counted() -> None:
    title, ways = jobs_words(Judged(OVERBREAK).assessment, "metres", UTC)
    count = int(title.removeprefix("To do, "))

    assert [len(way.splitlines()) for way in ways] == [6, 5, 4, 3, 2]
    for way in ways:
        *shown, last = way.splitlines()
        assert all(line.startswith("• ") for line in shown)
        assert last == f"and {count - len(shown)} more, in the handover"


def test_what_nobody_looked_at_is_named_and_counted() -> None:
    title, words = unseen_words(Judged(HALF_LOOKED_AT).assessment)
    count = int(title.removeprefix("Not looked at, "))

    assert words.endswith(f" and {count - 6} more")


def test_nothing_to_fix_is_said_only_of_what_was_looked_at() -> None:
    assessment = Judged(HALF_LOOKED_AT).assessment

    assert assessment.fix_list == ()
    assert jobs_words(assessment, "metres", UTC) == ("Nothing to fix in what was looked at", [])


def test_what_stands_in_the_way_is_the_worst_of_it() -> None:
    assert why_not(Judged(TWO_MISSING).assessment) == "Neighbouring bolts: no entry"


@pytest.mark.parametrize(
    ("scenario", "check", "roles", "may"),
    [
        (BOLT_MISSING, "bolts_present", ENGINEER, True),
        (BOLT_MISSING, "bolts_present", ("shift supervisor",), False),
        (BOLT_MISSING, "bolts_present", ("records keeper",), False),
        (BOLT_MISSING, "bolt_spacing", ENGINEER, False),
        (TWO_MISSING, "neighbouring_bolts", ENGINEER, False),
        (RAGGED_FACE, "last_row_to_face", ENGINEER, False),
        (AT_THE_LIMIT, "last_row_to_face", ENGINEER, False),
        (HALF_LOOKED_AT, "bolts_present", ENGINEER, False),
    ],
    ids=str,
)
def test_a_deviation_is_offered_only_where_one_can_be_granted(
    scenario: Scenario,
    check: str,
    roles: tuple[Role, ...],
    may: bool,  # noqa: FBT001
) -> None:
    assert may_deviate(Judged(scenario).finding(check), session(roles)) is may


def test_nobody_signed_in_is_offered_none() -> None:
    assert not may_deviate(Judged(BOLT_MISSING).finding("bolts_present"), None)


def test_each_place_is_granted_by_itself() -> None:
    finding = Judged(TWO_MISSING).finding("bolts_present")

    assert [(it.row, it.position) for it in places_to_grant(finding)] == [(2, 4), (2, 5)]
