"""What the ledger says of a heading's tests of support, as far as entry has to know of them."""

from collections.abc import Sequence
from dataclasses import dataclass

from fieldapp.assess.bolt_tests import JudgedTest, result_of
from fieldapp.assess.bolt_tests.failed_support import FailedTest, failed_support
from fieldapp.work.damage_record import SeenDamage
from fieldapp.work.known import Known, current
from fieldapp.work.site import Sight
from fieldapp.work.standard_in_force import of_revision, standard_at
from schemas.bodies.bolt_test import BoltTest
from schemas.standard import Standard


@dataclass(frozen=True)
class StatedTest:
    """One current revision of a test; where two stand, both are given."""

    id: str
    test: BoltTest


def stated_tests(site: Sight, heading_id: str) -> tuple[StatedTest, ...]:
    """Give the tests of a heading's support; what was put in for a test is no part of it."""
    known = current(site, "bolt_test", BoltTest, heading=heading_id)
    return tuple(StatedTest(it.id, it.body) for it in known if it.body.part_of_support)


def standard_of(site: Sight, test: BoltTest) -> Standard | None:
    """Give the standard by which a test was made; where it names none, the one then in force."""
    known: Known[Standard] | None = of_revision(site, test.standard) if test.standard else None
    return known.body if known else standard_at(site, test.tested_at)


def failed_tests(
    site: Sight, tests: Sequence[StatedTest], damages: Sequence[SeenDamage]
) -> tuple[FailedTest, ...]:
    """Give the failed support that nobody has recorded as damage, each test by its standard."""
    judged = [
        JudgedTest(it.id, it.test, result_of(it.test, standard_of(site, it.test))) for it in tests
    ]
    return failed_support(judged, [one.damage for it in damages for one in it.seen])
