"""Readings that bolt, wrench or gauge can hardly mean are named, to be read again."""

import pytest

from fieldapp.assess.bolt_tests import out_of_reason
from tests.standards import changed
from tests.unit.assess.bolt_tests.pulls import STANDARD, Read, held, pull, slipped


def turned(nm: str) -> list[str]:
    test = pull(kind="torque", bolt_type="PB24", torque_nm=nm)
    return list(out_of_reason(test, STANDARD))


def read(*readings: Read, broke: str | None = None) -> list[str]:
    return list(out_of_reason(pull(*readings, broke=broke), STANDARD))


def test_a_torque_half_as_much_again_as_the_greatest_of_the_standard_is_read_again() -> None:
    """The standard gives these bolts 200 to 330 N·m as they are put in, and 180 later."""
    assert turned("495") == []
    (asked,) = turned("496")

    assert asked == (
        "496 N·m is far above 330 N·m, the greatest that the standard gives PB24: read it again"
    )


def test_without_a_torque_in_the_standard_none_is_out_of_reason() -> None:
    silent = changed(lambda document: document.pop("torque_tests"))
    test = pull(kind="torque", bolt_type="RB24", torque_nm="900")

    assert list(out_of_reason(test, silent)) == list(out_of_reason(test, None)) == []


@pytest.mark.parametrize("back_mm", ["4.7", "5"])
def test_a_gauge_may_go_back_by_its_doubt(back_mm: str) -> None:
    assert read((0, 0), (40, 5), (85, back_mm)) == []


def test_a_first_reading_that_is_not_0_is_asked_about_since_all_are_counted_from_it() -> None:
    assert read((0, "2.1"), (85, 4)) == [
        "the first reading is 2.1 mm, and all are counted from 0: take that off each"
    ]
    assert read((0, "0.3"), (85, 4)) == []


def test_a_head_that_goes_back_under_load_is_read_again() -> None:
    assert read((0, 0), (40, 5), (85, 4)) == [
        "the head went back from 5 mm at 40 kN to 4 mm at 85 kN: read it again"
    ]


def test_a_head_that_goes_back_as_the_load_is_let_off_is_the_steel_that_springs_back() -> None:
    assert read((0, 0), (85, 4), (40, 2)) == []


def test_a_load_that_falls_while_the_head_comes_on_is_read_again_unless_something_gave() -> None:
    assert read((0, 0), (85, 4), (40, 9)) == [
        "the load fell and the head came on from 4 mm at 85 kN to 9 mm at 40 kN: read it again"
    ]
    assert read((0, 0), (85, 4), (40, 9), broke="anchor slipped") == []
    assert read((0, 0), (85, 4), (83, 4.5)) == [], "oil that bleeds, and rock that creeps"


def test_what_the_demo_reads_is_in_reason() -> None:
    assert [*out_of_reason(held(), STANDARD), *out_of_reason(slipped(), STANDARD)] == []
