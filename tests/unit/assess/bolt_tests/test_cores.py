"""Cores of shotcrete: the mean of the set and each of them."""

from typing import Any

import pytest

from fieldapp.assess.bolt_tests.result import Result
from tests.unit.assess.bolt_tests.pulls import pull, result


def cores(*strengths_mpa: str, **said: Any) -> Result:
    """Judge cores of shotcrete of 30 MPa, 28 days old."""
    said = {"age_days": 28, **said}
    body = {"kind": "shotcrete cores", "bolt_type": None, "cores_mpa": strengths_mpa, **said}
    return result(pull(**body))


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


def test_cores_that_are_strong_enough_early_pass() -> None:
    assert cores("30", "30", "30", age_days=7).outcome == "passed"
