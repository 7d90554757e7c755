from decimal import Decimal
from typing import Any

from schemas.bodies.round import FaceNearer, FaceReading
from schemas.findings import Finding, Verdict
from tests.unit.assess.conforming import (
    conforming,
    finding,
    length,
    missing,
    with_bolts,
    with_round,
)


def read(*values: tuple[Any, str], **more: Any) -> Finding:
    readings = tuple(
        FaceReading(where=where, reading=length(value, "staff", **more)) for where, value in values
    )
    return finding(with_round(conforming(), face_readings=readings), "last_row_to_face")


def test_the_largest_of_three_governs() -> None:
    found = read(("left", "0.8"), ("middle", "0.7"), ("right", "1.2"))

    assert (found.verdict, found.measured) == (Verdict.REWORK, "1.200")
    assert found.places[0].words == "row 3 to the face, right"


def test_far_beyond_it_is_no_entry() -> None:
    found = read(("left", "0.8"), ("middle", "1.6"), ("right", "0.8"))

    assert (found.verdict, found.limit) == (Verdict.NO_ENTRY, "at most 1.5")


def test_a_place_that_was_not_read_is_not_looked_at() -> None:
    found = read(("left", "0.8"), ("middle", "0.8"))

    assert (found.verdict, found.holds) == (Verdict.NOT_LOOKED_AT, Verdict.NO_ENTRY)


def test_a_reading_in_the_guard_band_is_read_again_once() -> None:
    near = (("left", "0.8"), ("middle", "0.98"), ("right", "0.8"))

    assert read(*near).verdict is Verdict.MEASURE_AGAIN
    assert read(*near, again=True).verdict is Verdict.REWORK


def test_a_reading_that_may_be_past_no_entry_holds_entry_there() -> None:
    found = read(("left", "0.8"), ("middle", "1.49"), ("right", "0.8"))

    assert (found.verdict, found.holds) == (Verdict.REWORK, Verdict.NO_ENTRY)


def test_a_row_with_a_position_that_does_not_count_is_not_the_last_row() -> None:
    """Row 2 is the last complete one: 0.9 m more."""
    found = finding(with_bolts(conforming(), 3, missing(4)), "last_row_to_face")

    assert (found.verdict, found.measured) == (Verdict.NO_ENTRY, "1.700")
    assert found.how == "from row 2"


def known_at(face: str, **more: Any) -> Finding:
    """The last row stands at 1389.1 m and reads 0.8 m to the face."""
    return finding(conforming(face_known_m=Decimal(face), **more), "last_row_to_face")


def test_a_face_that_was_fired_farther_is_not_wholly_looked_at() -> None:
    found = known_at("1392.00")

    assert (found.verdict, found.holds) == (Verdict.NOT_LOOKED_AT, Verdict.NO_ENTRY)
    assert [it.words for it in found.places] == ["why the face is not at 1392.00 m"]


def test_why_the_face_is_nearer_stands_with_the_finding() -> None:
    nearer = FaceNearer(
        known_m=Decimal("1392.00"), read_m=Decimal("1389.90"), why="the advance was less"
    )
    found = known_at("1392.00", face_nearer=nearer)

    assert found.verdict is Verdict.ACCEPT
    assert found.how == "from row 3; the face is not at 1392.00 m: the advance was less"


def test_a_face_known_near_enough_asks_for_nothing() -> None:
    assert known_at("1390.10").verdict is Verdict.ACCEPT
