"""What the ledger says of a heading's tests of support, as far as entry has to know of them."""

from collections.abc import Sequence
from dataclasses import dataclass

from fieldapp.assess.bolt_tests import JudgedTest, Result, result_of, standing
from fieldapp.assess.bolt_tests.failed_support import FailedTest, failed_support
from fieldapp.work.authority import counting
from fieldapp.work.damage_record import SeenDamage
from fieldapp.work.known import Known, current, stated
from fieldapp.work.site import Sight, Site
from fieldapp.work.standard_in_force import of_revision, standard_at
from schemas.bodies.bolt_test import BoltTest
from schemas.bodies.told import Told
from schemas.standard import Standard


@dataclass(frozen=True)
class StatedTest:
    """One current revision of a test; where two stand, both are given."""

    id: str
    line: tuple[BoltTest, ...]
    """What it was stated as since an engineer stated it last; the newest last."""


def stated_tests(site: Sight, heading_id: str) -> tuple[StatedTest, ...]:
    """Give the tests of a heading's support; what was put in for a test is no part of it."""
    known = current(site, "bolt_test", BoltTest, heading=heading_id)
    lines = ((it.id, tuple(one.body for one in line_of(site, it))) for it in known)
    return tuple(
        StatedTest(name, line) for name, line in lines if any(it.part_of_support for it in line)
    )


def line_of(site: Sight, head: Known[BoltTest]) -> tuple[Known[BoltTest], ...]:
    """Give what a test was stated as since an engineer stated it last; the newest last."""
    if not head.entry.parents:
        return (head,)
    older = counting(site).not_agreed(head.entry)
    said = stated(site, "bolt_test", BoltTest, heading=head.body.heading)
    return (*(it for it in said if it.entry.revision in older), head)


def judged(site: Sight, test_id: str, test: BoltTest) -> JudgedTest:
    """Judge a test by the standard by which it was made."""
    return JudgedTest(test_id, test, result_of(test, standard_of(site, test)))


def standard_of(site: Sight, test: BoltTest) -> Standard | None:
    """Give the standard by which a test was made; where it names none, the one then in force."""
    known: Known[Standard] | None = of_revision(site, test.standard) if test.standard else None
    return known.body if known else standard_at(site, test.tested_at)


def by_standard_now(site: Site, one: JudgedTest) -> tuple[str, Result] | None:
    """Judge a test by the standard in force now, and name it; None where it says the same."""
    standard = standard_at(site, site.now())
    if standard is None:
        return None
    now = result_of(one.test, standard)
    same = (now.outcome, now.limit) == (one.result.outcome, one.result.limit)
    return None if same else (standard.name, now)


def failed_tests(
    site: Sight, tests: Sequence[StatedTest], damages: Sequence[SeenDamage]
) -> tuple[FailedTest, ...]:
    """Give the failed support that nobody has recorded as damage, each test by its standard."""
    lines = ([judged(site, it.id, test) for test in it.line] for it in tests)
    known = [line[standing(line)] for line in lines]
    told = told_of(site, tests[0].line[0].heading) if tests else {}
    return failed_support(known, [one.damage for it in damages for one in it.seen], told)


def told_of(site: Sight, heading_id: str) -> dict[str, str]:
    """Say which engineer was told of each failed test of a heading, as it was stated last."""
    said = current(site, "told", Told, heading=heading_id)
    return {it.body.test: told_words(it.body) for it in said}


def told_words(told: Told) -> str:
    """Say who was told and how: "Geotechnical engineer was told by radio"."""
    return f"{told.who} was told {told.by}"
