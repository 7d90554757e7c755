"""What is followed of tests of support: how many pass, and at which load bolts give way.

Another look at a suspect says more of the suspect and nothing of the rest: it counts to no share.
"""

from collections.abc import Iterator, Mapping
from decimal import Decimal
from typing import Final

from fieldapp.work.bolt_tests.recording import BoltTestKnown, bolt_tests
from fieldapp.work.known import Known
from fieldapp.work.site import Timed
from fieldapp.work.trends.points import Evidence, Grouping, Measure, Sample, groups_of
from schemas.bodies.bolt_test import Why
from schemas.bodies.heading import Heading
from schemas.numbers import said_m

_TENTH: Final = Decimal("0.1")
_SUSPECTS: Final[tuple[Why, ...]] = ("suspected", "follows a failed test")

PASSED: Final = Measure("tests-passed", "Tests of support passed", "%", "share", _TENTH, "more")
LOAD: Final = Measure(
    "pull-load", "Load at which bolts gave way", "kN", "each", _TENTH, "more", charted=True
)


def passed(site: Timed, place: Known[Heading]) -> Iterator[Sample]:
    """Yield 1 for a test that passed, 0 for one that failed; one not judged is left out."""
    for it in bolt_tests(site, place.id):
        if it.result.judged and it.test.why not in _SUSPECTS:
            yield _sample(place, it, Decimal(not it.result.failed), _groups(place, it))


def loads(site: Timed, place: Known[Heading]) -> Iterator[Sample]:
    """Yield the load of each destructive pull, in kN; each type of bolt is a group of its own.

    A proof pull stops at its load, however much more the bolt would have carried.
    """
    for it in bolt_tests(site, place.id):
        bolt, load_kn = it.test.bolt_type, it.result.value
        if it.test.kind == "destructive pull" and bolt is not None and load_kn is not None:
            groups = _groups(place, it).items()
            by_type = {by: ", ".join(filter(None, (name, bolt))) for by, name in groups}
            yield _sample(place, it, load_kn, by_type)


def _groups(place: Known[Heading], it: BoltTestKnown) -> Mapping[Grouping, str]:
    return groups_of(place.body, crew=it.test.crew, batch=it.test.batch)


def _sample(
    place: Known[Heading], it: BoltTestKnown, value: Decimal, groups: Mapping[Grouping, str]
) -> Sample:
    test = it.test
    words = f"{place.body.name}, {test.kind} at {said_m(test.chainage_m)} m: {it.result.outcome}"
    evidence = Evidence("bolt_test", it.id, place.id, words, test.chainage_m)
    return Sample(test.tested_at, value, evidence, groups)
