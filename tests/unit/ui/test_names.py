"""Names on keys keep both ends, reasons their beginning."""

import pytest

from fieldapp.ui.names import LETTERS, fewer_words, short


def test_a_name_that_has_room_stays_whole() -> None:
    assert short("4180 Ore Drive N") == "4180 Ore Drive N"
    assert short("x" * LETTERS) == "x" * LETTERS


def test_a_long_name_keeps_whole_words_at_both_ends() -> None:
    long = "4180 Sublevel ventilation return crosscut north 12"

    assert short(long) == "4180 Sublevel … crosscut north 12"


@pytest.mark.parametrize("long", ["x" * 60, "4180 " + "y" * 55, "y" * 55 + " 4180", " " * 60])
def test_a_name_without_words_is_cut_and_never_longer(long: str) -> None:
    assert len(short(long)) <= LETTERS


def test_two_names_that_differ_at_the_end_still_differ() -> None:
    names = {short(f"4180 Sublevel ventilation return crosscut {n}") for n in range(100)}

    assert len(names) == 100


def test_a_reason_loses_what_explains_it_before_what_it_says() -> None:
    assert fewer_words("restricted: torn mesh at 606.7 m: hole of 3 openings; limit 1") == (
        "restricted: torn mesh at 606.7 m: hole of 3 openings; limit 1",
        "restricted: torn mesh at 606.7 m: hole of 3 openings",
        "restricted: torn mesh at 606.7 m",
        "restricted",
    )


def test_a_reason_without_parts_stays_whole() -> None:
    assert fewer_words("supported before this record") == ("supported before this record",)
