"""Readings that leave no room, or are of what is not in the round."""

from decimal import Decimal

import pytest

from schemas.bodies.round import FaceReading, SpacingSeen, TorqueSeen
from schemas.bundle import Bundle
from schemas.findings import Verdict
from tests.unit.assess.conforming import conforming, length, with_bolts, with_round, with_row
from tests.unit.assess.contradictions.contradicted import contradicted, placed, the_one


def with_faces(value_m: str, where: str = "left") -> Bundle:
    more = FaceReading.model_validate({"where": where, "reading": length(value_m, "staff")})
    bundle = conforming()
    return with_round(bundle, face_readings=(*bundle.round.face_readings, more))


def test_two_rows_at_one_place() -> None:
    bundle = with_row(conforming(), 2, ahead_of_row_before=length("0.00"))

    assert the_one(bundle) == (
        "row_spacing",
        "row 2 stands 0.00 m ahead of row 1: no room for two rows",
        Verdict.MEASURE_AGAIN,
    )


def test_two_rows_that_are_still_at_one_place_once_measured_again() -> None:
    bundle = with_row(conforming(), 2, ahead_of_row_before=length("0.00", "laser", again=True))

    assert the_one(bundle)[2] is Verdict.REWORK


def test_a_row_written_down_twice() -> None:
    rows = conforming().round.rows

    assert the_one(with_round(conforming(), rows=(*rows, rows[1])))[1] == (
        "row 2 is written down 2 times"
    )


def test_a_last_row_in_the_face() -> None:
    assert the_one(with_faces("0.00")) == (
        "last_row_to_face",
        "0.00 m leaves no room for the plates of the last row: the face, left",
        Verdict.MEASURE_AGAIN,
    )


@pytest.mark.parametrize(("first", "then"), [(1, 40), (4, 4)])
def test_a_spacing_of_no_two_bolts(first: int, then: int) -> None:
    taped = SpacingSeen(from_position=first, to_position=then, reading=length("1.24"))
    bundle = with_row(conforming(), 2, spacings=(*conforming().round.rows[1].spacings, taped))

    assert f"row 2, bolt {first} to {then}: no two bolts of this row" in [
        place.words for it in contradicted(bundle) for place in it.places
    ]


def test_one_spacing_taped_over_four_positions() -> None:
    """A position is passed over: 1.24 m from bolt 1 to 5 is none of this pattern."""
    taped = SpacingSeen(from_position=1, to_position=5, reading=length("1.24"))

    assert the_one(with_row(conforming(), 2, spacings=(taped,)))[0] == "bolt_spacing"


def test_a_spacing_between_bolts_that_were_marked_where_they_stand_agrees() -> None:
    taped = SpacingSeen(from_position=4, to_position=5, reading=length("0.54"))
    bundle = with_bolts(conforming(), 2, placed(4, "-0.54"), placed(5, "0.00"))

    assert contradicted(with_row(bundle, 2, spacings=(taped,))) == []


def test_a_spacing_that_the_pattern_does_not_have() -> None:
    taped = SpacingSeen(from_position=4, to_position=5, reading=length("0.02"))

    assert the_one(with_row(conforming(), 2, spacings=(taped,))) == (
        "bolt_spacing",
        "row 2, bolt 4 to 5: 0.02 m is not as standard, and no place was marked",
        Verdict.MEASURE_AGAIN,
    )


def test_the_torque_of_a_bolt_that_is_not_in_the_round() -> None:
    bundle = conforming("O2")
    read = TorqueSeen(bolt=40, torque_nm=Decimal(260))

    assert the_one(with_round(bundle, torques=(*bundle.round.torques, read)))[1] == (
        "bolt 40 was read for torque, in a round of 19 bolts"
    )
