"""A heading, and a round that can't be its own."""

from decimal import Decimal
from typing import Any

import pytest

from schemas.bundle import Bundle
from schemas.findings import Verdict
from tests.unit.assess.conforming import JOINT, length, with_round, with_row
from tests.unit.assess.contradictions.contradicted import contradicted, the_one, with_heading


def test_a_heading_put_up_by_another_class_than_the_round() -> None:
    assert the_one(with_heading(support_class="O2")) == (
        "heading",
        "the heading is put up by O2, the round was looked at by D1",
        Verdict.NOT_LOOKED_AT,
    )


def test_a_face_behind_the_last_row() -> None:
    assert the_one(with_heading(face_m=JOINT - 1)) == (
        "heading",
        "the face at 1385.40 m is behind the last row at 1386.40 m",
        Verdict.NOT_LOOKED_AT,
    )


def test_a_face_that_was_farther_inbye_than_it_is_read_now() -> None:
    """Three rows of 0.9 m and 0.8 m to the face: 1389.90 m. It never comes back."""
    assert the_one(with_heading(face_m=Decimal("9383.00"))) == (
        "heading",
        "the face is read at 1389.90 m and was at 9383.00 m already",
        Verdict.NOT_LOOKED_AT,
    )


def known(at_m: str, **heading: Any) -> Bundle:
    return with_round(with_heading(**heading), face_known_m=Decimal(at_m))


def test_a_face_that_was_known_behind_the_joint() -> None:
    assert the_one(known("1386.00", face_m=Decimal("1386.40")))[1] == (
        "the face was known at 1386.00 m, behind the joint at 1386.40 m"
    )


def test_a_face_that_was_known_outbye_of_where_it_was_surveyed() -> None:
    """No round since has read it nearer, and said why."""
    assert the_one(known("1387.00", face_m=Decimal("1389.00"), last_round=411))[1] == (
        "the face was known at 1387.00 m and was at 1389.00 m already"
    )


def test_rows_that_end_a_hundred_metres_beyond_the_face() -> None:
    bundle = with_row(known("1386.40"), 2, ahead_of_row_before=length("100.00"))

    assert the_one(bundle)[1] == (
        "the last row at 1488.20 m is far beyond the face known at 1386.40 m"
    )


def test_a_face_known_where_it_was_fired_for_agrees() -> None:
    assert contradicted(known("1389.10", last_round=411)) == []


def test_a_face_that_is_off_by_no_more_than_a_row_is_what_tapes_are_off() -> None:
    assert contradicted(with_heading(face_m=Decimal("1390.70"))) == []


@pytest.mark.parametrize("last_row_m", ["1380.00", "1386.60"])
def test_the_first_round_joins_the_heading_s_last_row(last_row_m: str) -> None:
    last = Decimal(last_row_m)
    bundle = with_heading(last_row_m=last, face_m=last, last_round=411)

    assert the_one(bundle)[:2] == (
        "heading",
        f"the joint at 1386.40 m can't follow from the last row at {last_row_m} m",
    )


def test_a_later_round_joins_farther_inbye() -> None:
    far = Decimal("1300.00")

    assert contradicted(with_heading(last_row_m=far, face_m=far, last_round=380)) == []


def test_eleven_rounds_don_t_advance_by_a_kilometre() -> None:
    far = Decimal("386.40")

    assert the_one(with_heading(last_row_m=far, face_m=far, last_round=400))[1] == (
        "the joint at 1386.40 m can't follow from the last row at 386.40 m"
    )


def test_a_round_of_a_number_that_the_heading_had_already() -> None:
    assert the_one(with_heading(last_round=500))[1] == (
        "round 412, and the heading was entered after round 500"
    )
