"""Cores of shotcrete: the mean of the set and each of them."""

from typing import Any

import pytest

from fieldapp.assess.bolt_tests import JudgedTest, opened_by, result_of
from fieldapp.assess.bolt_tests.failed_support import failed_support
from fieldapp.assess.bolt_tests.result import Result
from tests.standards import changed
from tests.unit.assess.bolt_tests.pulls import pull, result

SET: dict[str, Any] = {"kind": "shotcrete cores", "bolt_type": None, "age_days": 28}


def cores(*strengths_mpa: str, **said: Any) -> Result:
    """Judge cores of shotcrete of 30 MPa, 28 days old."""
    return result(pull(**{**SET, "cores_mpa": strengths_mpa, **said}))


def test_a_set_passes_with_its_mean_and_each_core() -> None:
    """28 of 30 MPa are 93.3 %, 26 are 86.7 %."""
    assert cores("30", "28", "26").words == (
        "passed: the mean reaches 93.3 %, the weakest core 86.7 %; "
        "demanded: mean at least 85 % of 30 MPa, each 75 %, 28 days old (S-2, 11.6: as ACI 506.2)"
    )


@pytest.mark.parametrize(
    ("set_of", "outcome"),
    [
        (("25.5", "25.5", "25.5"), "passed"),
        (("25.5", "25.5", "25.4"), "failed"),
        (("32", "31", "22.5"), "passed"),
        (("32", "31", "22.4"), "failed"),
    ],
)
def test_the_share_itself_passes_and_less_fails(set_of: tuple[str, ...], outcome: str) -> None:
    """85 % of 30 MPa are 25.5, 75 % are 22.5."""
    assert cores(*set_of).outcome == outcome


def test_too_few_cores_or_too_young_ones_cant_be_judged() -> None:
    assert cores("30", "30").outcome == "can't be judged"
    assert cores().outcome == "can't be judged"
    assert cores("20", "20", "20", age_days=7).outcome == "can't be judged"
    assert cores("20", "20", "20", age_days=None).outcome == "can't be judged"


def test_a_failed_set_opens_what_the_standard_says_of_it() -> None:
    """Two more sets near it, and the engineer is told; the demo asks for the latter alone."""
    then = {"then": ["neighbours", "tell the engineer"], "neighbours": 2, "because": "S-2, 11.4"}
    asks = changed(lambda document: document["cores"].update(after_failure=then))
    weak = pull(**SET, cores_mpa=("18", "20", "19"))
    failed = JudgedTest("weak", weak, result_of(weak, asks))
    opened = opened_by(failed, [], [], "to be recorded as damage", "not asked")
    (stands,) = failed_support([failed], [])

    assert (opened.which, opened.tests, opened.kind) == (
        "more sets of cores near it",
        2,
        "shotcrete cores",
    )
    assert stands.then == (
        "record its shotcrete as damage; press more sets near it; tell the engineer"
    )
    assert cores("18", "20", "19").then is not None


def test_cores_that_are_strong_enough_early_pass() -> None:
    assert cores("30", "30", "30", age_days=7).outcome == "passed"
