from decimal import Decimal

import pytest

from fieldapp.report.lengths import metres_words, millimetres_words


@pytest.mark.parametrize(
    ("value_m", "words"),
    [
        ("1.524", "5 ft 0 in"),  # published: 30 CFR 75.222(b)(1), 5 ft centres = 1.524 m
        ("0.3048", "1 ft 0 in"),  # published: NIST SP 811 (2008), B.8
        ("0.254", "10 in"),
        ("3.5", "11 ft 6 in"),  # 137.8 in
        ("0", "0 in"),
    ],
)
def test_a_length_is_read_in_feet_and_inches_where_the_mine_does_so(
    value_m: str, words: str
) -> None:
    assert metres_words(Decimal(value_m), "feet and inches") == words


def test_a_lap_is_read_to_a_tenth_of_an_inch() -> None:
    assert millimetres_words(Decimal(300), "feet and inches") == "11.8 in"


def test_metric_lengths_are_shown_as_they_are_kept() -> None:
    assert metres_words(Decimal("1.890"), "metres") == "1.890 m"
    assert millimetres_words(Decimal(210), "metres") == "210 mm"
