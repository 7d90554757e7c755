"""Which class the next round is put up by, after the ground changed within one."""

from decimal import Decimal

from fieldapp.work.class_ahead import class_ahead
from schemas.bodies.round import OverOld, Round
from schemas.bodies.second_domain import SecondDomain
from tests.unit.assess.conforming import conforming

PLAIN = conforming().round


def of(code: str) -> Round:
    return PLAIN.model_copy(update={"support_class": code})


def split(from_m: str = "1.0", inbye: str = "O2") -> Round:
    second = SecondDomain(
        from_m=PLAIN.joint_m + Decimal(from_m), support_class=inbye, told_by="the plan"
    )
    return PLAIN.model_copy(update={"second_domain": second})


def test_a_heading_without_a_change_of_ground_keeps_its_class() -> None:
    assert class_ahead("D1", []) == "D1"
    assert class_ahead("D1", [of("D1"), of("D1")]) == "D1"


def test_the_next_round_starts_with_the_class_nearest_the_face() -> None:
    assert class_ahead("D1", [of("D1"), split()]) == "O2"


def test_so_does_the_round_after_that() -> None:
    assert class_ahead("D1", [split(), of("O2"), of("O2")]) == "O2"


def test_a_change_past_the_last_row_has_not_been_reached() -> None:
    assert class_ahead("D1", [split("9.0")]) == "D1"


def test_a_class_that_the_engineer_gave_the_heading_since_is_heard() -> None:
    assert class_ahead("W3", [split(), of("O2")]) == "W3"
    assert class_ahead("O2", [split()]) == "O2"


def test_ground_that_changed_back_is_what_it_is_at_the_face() -> None:
    back = split(inbye="D1").model_copy(update={"support_class": "O2"})

    assert class_ahead("D1", [split(), back]) == "D1"


def test_a_round_of_another_class_than_the_one_past_the_change_ends_it() -> None:
    assert class_ahead("D1", [split(), of("W3")]) == "D1"


def test_new_support_over_old_says_nothing_of_the_face() -> None:
    over = conforming("W3").round.model_copy(update={"over": OverOld(to_m=PLAIN.joint_m)})

    assert class_ahead("D1", [of("D1"), over]) == "D1"
