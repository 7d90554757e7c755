"""A face read outbye of where it was known to be: what is asked, and how far a reason reaches."""

from decimal import Decimal

import pytest

from fieldapp.assess.known_face import NearerFace, face_after_m, face_read_m, nearer_face
from schemas.bodies.round import FaceNearer, Round
from tests.unit.assess.conforming import conforming

AT_MOST = Decimal("1.0")
LAST_ROW = Decimal("1389.10")
"""1386.40 and three rows of 0.9 m; the face is read 0.8 m from there."""
READ = Decimal("1389.90")


def seen(known: str | None = None, reason: FaceNearer | None = None) -> Round:
    known_m = None if known is None else Decimal(known)
    return conforming(face_known_m=known_m, face_nearer=reason).round


def reason(known: str, read: str = "1389.90") -> FaceNearer:
    return FaceNearer(known_m=Decimal(known), read_m=Decimal(read), why="advanced less")


def test_the_face_is_read_from_the_last_row() -> None:
    assert face_read_m(seen()) == READ


def test_a_face_that_nobody_read_stays_where_it_was_known() -> None:
    unread = conforming(face_readings=()).round

    assert face_read_m(unread) is None
    assert face_after_m(unread, Decimal("1400")) == Decimal("1400")


@pytest.mark.parametrize(("known", "after"), [("1389.50", READ), ("1392.00", Decimal(1392))])
def test_a_reading_takes_the_face_inbye_and_never_outbye(known: str, after: Decimal) -> None:
    assert face_after_m(seen(), Decimal(known)) == after


def test_a_reason_takes_the_face_to_where_it_was_read() -> None:
    assert face_after_m(seen(reason=reason("1392.00")), Decimal("1392.00")) == READ


def test_a_reason_accounts_for_the_metres_it_was_given_for_and_no_more() -> None:
    """A firing of 3 m became known after the reason for 2.1 m was given."""
    after = face_after_m(seen(reason=reason("1392.00")), Decimal("1395.00"))

    assert after == READ + 3


def test_a_reason_for_another_reading_accounts_for_nothing() -> None:
    other = seen(reason=reason("1392.00", read="1390.50"))

    assert face_after_m(other, Decimal("1392.00")) == Decimal("1392.00")


def test_a_reason_never_takes_the_face_outbye_of_its_reading() -> None:
    assert face_after_m(seen(reason=reason("1395.00")), Decimal("1392.00")) == READ


def test_a_face_known_too_far_from_the_last_row_wants_a_reason() -> None:
    found = nearer_face(seen("1392.00"), AT_MOST)

    assert found == NearerFace(known_m=Decimal("1392.00"), read_m=READ, why=None)


@pytest.mark.parametrize("known", [None, "1389.00", "1389.90", "1390.10"])
def test_a_face_known_near_enough_to_the_last_row_wants_none(known: str | None) -> None:
    """To 1390.10 m it is 1.0 m, which the standard allows."""
    assert nearer_face(seen(known), AT_MOST) is None


def test_the_reason_given_is_told() -> None:
    found = nearer_face(seen("1392.00", reason("1392.00")), AT_MOST)

    assert found is not None
    assert found.why == "advanced less"


def test_a_reason_that_leaves_too_much_is_asked_for_again() -> None:
    found = nearer_face(seen("1395.00", reason("1392.00")), AT_MOST)

    assert found is not None
    assert found.why is None


def test_no_reason_is_asked_for_before_the_face_is_wholly_read() -> None:
    half = conforming(face_known_m=Decimal("1392.00"))
    readings = half.round.face_readings[:2]

    assert nearer_face(half.round.model_copy(update={"face_readings": readings}), AT_MOST) is None
