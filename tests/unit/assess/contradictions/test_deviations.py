"""Deviations that were granted for something else."""

from datetime import timedelta

from fieldapp.assess import assess
from schemas.bodies.deviation import Deviation
from schemas.bundle import Bundle
from tests.unit.assess.conforming import LOOKED, conforming, counted, missing, with_bolts, with_row
from tests.unit.assess.contradictions.contradicted import the_one


def deviating(
    bundle: Bundle, granted_for: str = "this", hours: int = 5, round_id: str | None = "this"
) -> Bundle:
    deviations = tuple(
        Deviation(
            round=granted_for,
            check=check,
            row=2,
            reason="fault, extra bolts beside it",
            ends_at=LOOKED + timedelta(hours=hours),
        )
        for check in ("bolts_present", "largest_gap", "load", "mesh_panel")
    )
    return bundle.model_copy(update={"deviations": deviations, "round_id": round_id})


ONE_MISSING = with_bolts(conforming(), 2, missing(7))


def test_a_deviation_covers_the_round_it_was_granted_for_and_no_other() -> None:
    assert assess(deviating(ONE_MISSING)).may_be_accepted
    assert not assess(deviating(ONE_MISSING, granted_for="another")).may_be_accepted
    assert the_one(deviating(conforming(), granted_for="another"))[1] == (
        "a deviation of the round another, not of this one"
    )


def test_a_deviation_covers_no_round_that_does_not_say_which_it_is() -> None:
    assert not assess(deviating(ONE_MISSING, round_id=None)).may_be_accepted


def test_a_deviation_that_ends_later_than_any_can_have_been_granted_covers_nothing() -> None:
    """The demo's standard: 24 h at most."""
    assert not assess(deviating(ONE_MISSING, hours=25)).may_be_accepted


def test_a_deviation_never_covers_a_contradiction() -> None:
    bundle = with_row(ONE_MISSING, 2, counted=counted(9))

    assert not assess(deviating(bundle)).may_be_accepted
