"""What a number pad holds."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fieldapp.ui.typed_number import TypedNumber


def typed(keys: str, decimals: int = 2) -> TypedNumber:
    number = TypedNumber(decimals=decimals)
    acts = {".": "with_point", "±": "turned", "<": "erased"}
    for key in keys:
        number = getattr(number, acts[key])() if key in acts else number.with_digit(key)
    return number


@pytest.mark.parametrize(
    ("keys", "value"),
    [
        ("210", "210"),
        ("1.35", "1.35"),
        (".5", "0.5"),
        ("1.", "1"),
        ("007", "7"),
        ("1.50", "1.50"),
        ("2.8±", "-2.8"),
        ("±2.8", "-2.8"),
        ("2.8±±", "2.8"),
        ("12<3", "13"),
        ("1..2", "1.2"),
    ],
)
def test_keys_become_a_number(keys: str, value: str) -> None:
    assert str(typed(keys).value) == value


@pytest.mark.parametrize("keys", ["", "±", "1<"])
def test_nothing_typed_is_no_number(keys: str) -> None:
    assert typed(keys).value is None


def test_more_decimals_than_the_unit_has_are_ignored() -> None:
    assert typed("1.239").text == "1.23"
    assert typed("210.5", decimals=0).text == "2105"


def test_a_number_that_is_too_long_is_not_taken() -> None:
    assert typed("12345678").text == "123456"


@given(st.text("0123456789.±<", max_size=20))
def test_whatever_is_touched_stays_a_number_or_none(keys: str) -> None:
    number = typed(keys)

    assert number.value is None or isinstance(number.value, Decimal)
