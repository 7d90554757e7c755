"""A proof test holds its load for its time; a pull that can't have been so says why."""

from decimal import Decimal

import pytest

from fieldapp.assess.pull_curve import (
    Hold,
    Peak,
    ProofJudged,
    contradictions,
    held,
    peak,
    proof_judged,
    stiffness_kn_per_mm,
)
from schemas.bodies.bolt_test import PullReading

PROOF = Decimal(85)


def pulled(*readings: tuple[str, str] | tuple[str, str, int]) -> list[PullReading]:
    """Put readings of load [kN], displacement [mm] and perhaps time [s] in a row."""
    return [
        PullReading(
            load_kn=Decimal(it[0]),
            displacement_mm=Decimal(it[1]),
            after_s=Decimal(it[2]) if len(it) == 3 else None,
        )
        for it in readings
    ]


def judged(readings: list[PullReading], held_min: int | None = None) -> ProofJudged:
    found = proof_judged(readings, PROOF, 1, Decimal(10), held_min)
    assert found is not None
    return found


def test_a_load_held_for_its_minute_passes() -> None:
    test = judged(pulled(("0", "0", 0), ("85", "4", 20), ("85.2", "5", 80), ("0", "1", 90)))

    assert test.passed
    assert test.hold == Hold(held_s=Decimal(60), slip_mm=Decimal(5))


@pytest.mark.parametrize(
    ("readings", "fault"),
    [
        (pulled(("0", "0", 0), ("84.9", "4", 20), ("84", "4", 90)), "load not reached"),
        (pulled(("85", "4", 20), ("85", "4", 79)), "held too short"),
        (pulled(("85", "4", 20), ("85", "10.1", 80)), "slip too large"),
        (pulled(("85", "4")), "not known how long it was held"),
    ],
)
def test_what_stands_against_a_proof_test(readings: list[PullReading], fault: str) -> None:
    assert judged(readings).faults == (fault,)


def test_a_load_that_sagged_and_was_pumped_up_again_was_held_twice() -> None:
    sagged = pulled(("85", "3", 0), ("85", "4", 30), ("82", "5", 31), ("85", "6", 40))
    held_on = [*sagged, *pulled(("86", "7", 100))]

    assert judged(sagged).faults == ("held too short",)
    assert judged(held_on).hold == Hold(held_s=Decimal(60), slip_mm=Decimal(7))


def test_how_long_it_was_held_may_be_said_in_place_of_times() -> None:
    once = pulled(("0", "0"), ("85", "4"))

    assert judged(once, held_min=1).passed
    assert judged(once, held_min=0).faults == ("held too short",)


def test_of_two_holds_without_times_the_one_that_slipped_more_counts() -> None:
    twice = pulled(("85", "3"), ("80", "4"), ("85", "11"))

    assert judged(twice, held_min=1).faults == ("slip too large",)


def test_what_came_after_the_hold_is_no_slip_of_it() -> None:
    on = pulled(("85", "4", 0), ("85", "5", 60), ("60", "40", 70))

    assert judged(on).passed


def test_a_destructive_test_has_a_peak() -> None:
    assert peak(pulled(("50", "4"), ("142.3", "21"), ("90", "35"))) == Peak(
        Decimal("142.3"), Decimal(21)
    )


def test_where_nothing_was_read_nothing_is_judged() -> None:
    assert peak([]) is None
    assert held([], PROOF, 1) is None
    assert proof_judged([], PROOF, 1, Decimal(10)) is None
    assert stiffness_kn_per_mm([]) is None


def test_two_readings_or_a_cloud_have_no_stiffness() -> None:
    two = pulled(("0", "0"), ("30", "3"), ("50", "5"), ("100", "12"))
    cloud = pulled(("30", "5"), ("50", "3"), ("31", "9"), ("55", "4"), ("100", "12"))

    assert stiffness_kn_per_mm(two) is None
    assert stiffness_kn_per_mm(cloud) is None


@pytest.mark.parametrize(
    ("readings", "held_min", "said"),
    [
        ([], None, ("nothing was pulled",)),
        (pulled(("0", "0"), ("0", "1")), None, ("nothing was pulled",)),
        (pulled(("20", "1", 9), ("40", "2", 8)), None, ("time runs backwards",)),
        (
            pulled(("85", "4", 0), ("85", "5", 20), ("60", "30", 40)),
            1,
            ("load was gone before the hold was over",),
        ),
        (pulled(("85", "4", 0), ("60", "5", 60)), 1, ()),
        (pulled(("85", "4", 0)), 5, ()),
        (pulled(("85", "4"), ("0", "1")), 1, ()),
    ],
)
def test_what_can_t_be_true_of_a_pull(
    readings: list[PullReading], held_min: int | None, said: tuple[str, ...]
) -> None:
    assert contradictions(readings, PROOF, held_min) == said
