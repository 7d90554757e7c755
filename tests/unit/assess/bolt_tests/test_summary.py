"""Tests are put together like with like, and only what was drawn counts to the share."""

from decimal import Decimal

from fieldapp.assess.bolt_tests import Together, summary
from schemas.bodies.bolt_test import BoltTest
from tests.unit.assess.bolt_tests.pulls import (
    a_round,
    held,
    made,
    pull,
    pulled_to_the_end,
    slipped,
)

ROUNDS = (a_round(1), a_round(2, ground="fault or wedge"))
IN_FAULT = {"round": "round 2"}


def together(*tests: BoltTest) -> dict[tuple[str, str], Together]:
    found = summary([(made(f"{n}", it), ROUNDS) for n, it in enumerate(tests)])
    return {(it.kind, it.ground): it for it in found}


def test_proof_and_destructive_tests_and_grounds_are_never_put_together() -> None:
    found = together(
        held(round="round 1"), held(**IN_FAULT), pulled_to_the_end("120", **IN_FAULT), held()
    )

    assert list(found) == [
        ("proof pull", "as expected"),
        ("proof pull", "fault or wedge"),
        ("proof pull", "ground not known"),
        ("destructive pull", "fault or wedge"),
    ]


def test_suspects_and_tests_that_follow_are_counted_beside() -> None:
    suspect = slipped(why="suspected", **IN_FAULT)
    one = together(held(**IN_FAULT), suspect)["proof pull", "fault or wedge"]

    assert (one.passed, one.tests) == (1, 1)
    assert (one.beside, one.beside_failed) == (1, 1)


def test_suspects_alone_give_no_share() -> None:
    one = together(slipped(why="suspected"))["proof pull", "ground not known"]

    assert (one.tests, one.share, one.spread) == (0, None, None)


def test_proof_tests_have_no_characteristic_value_and_two_pulls_to_the_end_neither() -> None:
    """A proof test stops at its load: it says nothing of what more the bolt carries."""
    few = together(pulled_to_the_end("120"), pulled_to_the_end("110"))
    proof = together(held(), held(), held())["proof pull", "ground not known"]

    assert few["destructive pull", "ground not known"].characteristic is None
    assert proof.characteristic is None


def test_what_cant_be_judged_counts_in_nothing() -> None:
    assert together(pull(), held(rig_checked_at=None)) == {}


def test_one_test_has_a_mean_and_no_spread() -> None:
    spread = together(pulled_to_the_end("120"))["destructive pull", "ground not known"].spread

    assert spread is not None
    assert (spread.mean, spread.sd, spread.cv_percent) == (Decimal("120.0"), None, None)


def test_loads_at_which_proof_pulls_stop_are_no_strengths_and_have_no_mean() -> None:
    one = together(held(), held(), held())["proof pull", "ground not known"]

    assert (one.passed, one.tests, one.spread) == (3, 3, None)
