"""What the bolter told of another round than this."""

from decimal import Decimal

from schemas.bodies.round import BoltSeen
from tests.unit.assess.conforming import conforming, with_bolts, with_round
from tests.unit.assess.contradictions.contradicted import the_one


def test_holes_given_up_that_the_bolter_did_not_tell_of() -> None:
    beside = BoltSeen(
        position=4,
        state="present",
        plate="seated",
        s_m=Decimal("-1.04"),
        method="tape",
        beside=True,
    )

    assert the_one(with_bolts(conforming(), 2, beside))[:2] == (
        "bolter_check",
        "0 holes given up, the bolter told; 1 are marked",
    )


def test_more_holes_given_up_than_there_are_bolts() -> None:
    bolter = conforming().round.bolter.model_copy(update={"blocked_holes": 50})

    assert the_one(with_round(conforming(), bolter=bolter))[1] == (
        "50 holes given up, more than the round has bolts"
    )


def test_a_bolt_ten_times_as_long_as_its_type() -> None:
    bolter = conforming().round.bolter.model_copy(update={"bolt_length_m": Decimal("24.0")})

    assert the_one(with_round(conforming(), bolter=bolter))[:2] == (
        "bolt_type",
        "RB24 is 2.4 m long, and 24.0 m was told",
    )
