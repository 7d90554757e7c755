"""Metres signed over metres fired, worked out by hand."""

from decimal import Decimal

from fieldapp.assess.entry.coverage import Coverage, coverage
from fieldapp.assess.entry.state import HeadingFacts, RoundFact
from schemas.bodies.sign_off import Decision


def fact(
    number: int, rows: tuple[str, str], decision: Decision | None, face: str | None
) -> RoundFact:
    joint, last_row = map(Decimal, rows)
    return RoundFact(
        round_id=str(number),
        number=number,
        joint_m=joint,
        last_row_m=last_row,
        decision=decision,
        entry_line_m=last_row if decision == "accepted" else joint,
        face_m=None if face is None else Decimal(face),
    )


def covered(face: str, *rounds: RoundFact) -> Coverage:
    """Support ended at 100.0 m and the face stood at 100.8 m; it may stand 1.0 m ahead."""
    return coverage(
        HeadingFacts(
            last_row_m=Decimal("100.0"),
            face_m=Decimal(face),
            fired_from_m=Decimal("100.8"),
            face_allowance_m=Decimal("1.0"),
            two_rows_m=Decimal("1.8"),
            rounds=rounds,
        )
    )


def metres(signed: str, fired: str) -> Coverage:
    return Coverage(Decimal(signed), Decimal(fired))


def test_a_round_signs_the_ground_up_to_the_face_that_it_left() -> None:
    assert covered("104.4", fact(1, ("100.0", "103.6"), "accepted", "104.4")) == metres(
        "3.6", "3.6"
    )


def test_rows_that_reach_nearer_to_the_face_sign_no_more_than_was_fired() -> None:
    """Rows went on by 3.9 m where the face went on by 3.6: 0.5 m are left before it."""
    assert covered("104.4", fact(1, ("100.0", "103.9"), "accepted", "104.4")) == metres(
        "3.6", "3.6"
    )


def test_a_round_fired_and_not_signed_is_not_covered() -> None:
    first = fact(1, ("100.0", "103.6"), "accepted", "104.4")
    second = fact(2, ("103.6", "107.2"), None, "108.0")

    assert covered("108.0", first, second) == metres("3.6", "7.2")


def test_a_row_short_leaves_its_metres_unsigned() -> None:
    """Two rows under a round of three: the face is known 1.7 m ahead, 1.0 m is allowed."""
    assert covered("104.4", fact(1, ("100.0", "102.7"), "accepted", "104.4")) == metres(
        "1.9", "3.6"
    )


def test_a_hole_between_two_rounds_is_not_covered() -> None:
    first = fact(1, ("100.0", "103.6"), "accepted", "104.4")
    third = fact(3, ("107.2", "110.8"), "accepted", "111.6")

    assert covered("111.6", first, third) == metres("8.0", "10.8")


def test_one_round_recorded_twice_covers_what_both_accepted() -> None:
    shorter = fact(1, ("100.0", "103.4"), "accepted", None)
    longer = fact(1, ("100.0", "103.6"), "accepted", "104.4")
    sent_back = fact(1, ("100.0", "103.6"), "sent back", "104.4")

    assert covered("104.4", shorter, longer) == metres("2.6", "3.6")
    assert covered("104.4", longer, sent_back) == metres("0", "3.6")


def test_nothing_fired_is_nothing_to_sign() -> None:
    assert covered("100.8") == metres("0", "0")
