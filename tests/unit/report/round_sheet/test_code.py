"""The code on a sheet: short enough, readable, and no slip of a finger goes unseen."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fieldapp.report.round_sheet.code import SheetCodeUnread, parse_sheet_code, sheet_code
from schemas.check_character import DIGITS

ROUND = "01976f3a-52c4-7d10-9f4e-3b0a77c1e2d5"
HASH = "4f2a91bc77e01d3c" * 4

uuids = st.uuids().map(str)
hashes = st.binary(min_size=32, max_size=32).map(bytes.hex)


def test_the_payload_fits_a_version_2_symbol_at_level_q() -> None:
    payload = sheet_code(ROUND, HASH).payload

    # ISO/IEC 18004: 29 alphanumeric characters in a version 2 symbol at level Q.
    assert len(payload) == 29
    assert payload == payload.upper()


def test_the_code_holds_the_end_of_the_id_and_the_start_of_the_hash() -> None:
    code = sheet_code(ROUND, HASH)

    # 0x0a77c1e2d5 and 0x4f2a91bc77e01d3, five bits a digit, worked out by hand.
    assert int(_as_bits(code.round_end), 2) == 0x0A77C1E2D5
    assert int(_as_bits(code.hash_start), 2) == 0x4F2A91BC77E01D3


def _as_bits(digits: str) -> str:
    return "".join(f"{DIGITS.index(digit):05b}" for digit in digits)


@given(uuids, hashes)
def test_scanned_and_typed_alike_are_read_back(round_id: str, sha256: str) -> None:
    code = sheet_code(round_id, sha256)

    assert parse_sheet_code(code.payload) == code
    assert parse_sheet_code(code.readable) == code
    assert parse_sheet_code(f"  {code.readable.lower().replace('-', ' ')}\n") == code
    assert code.is_of(round_id, sha256)


@given(uuids, hashes)
def test_letters_that_look_alike_are_read_as_the_digit(round_id: str, sha256: str) -> None:
    code = sheet_code(round_id, sha256)

    assert parse_sheet_code(code.readable.replace("0", "O").replace("1", "l")) == code


def test_a_code_belongs_to_no_other_assessment_of_the_round() -> None:
    assert not sheet_code(ROUND, HASH).is_of(ROUND, "5" + HASH[1:])


@given(uuids, hashes)
def test_every_single_wrong_character_is_found(round_id: str, sha256: str) -> None:
    typed = sheet_code(round_id, sha256).readable.replace("-", "")

    for place, right in enumerate(typed):
        for wrong in DIGITS.replace(right, ""):
            with pytest.raises(SheetCodeUnread):
                parse_sheet_code(typed[:place] + wrong + typed[place + 1 :])


@given(uuids, hashes)
def test_every_swap_of_two_characters_is_found(round_id: str, sha256: str) -> None:
    typed = sheet_code(round_id, sha256).readable.replace("-", "")

    for first in range(len(typed)):
        for second in range(first + 1, len(typed)):
            if typed[first] != typed[second]:
                swapped = list(typed)
                swapped[first], swapped[second] = typed[second], typed[first]
                with pytest.raises(SheetCodeUnread):
                    parse_sheet_code("".join(swapped))


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("", "it has 0 characters in place of 21"),
        ("7K3Q-9XTR", "it has 8 characters in place of 21"),
        ("https://example.invalid/x", "it was made by something else"),
        ("XY9:B/7K3Q9XTR/5", "it was made by something else"),
        ("7K3Q-9XTR-4F2A-91BC-77E0-U", "“U” never stands in one"),
        ("7K3Q-9XTR-4F2A-91BC-77É0-5", "“É” never stands in one"),
    ],
)
def test_what_is_no_code_of_ours_is_refused_with_the_reason(text: str, reason: str) -> None:
    with pytest.raises(SheetCodeUnread) as caught:
        parse_sheet_code(text)

    assert caught.value.reason == reason


def test_a_very_long_text_is_not_shown_whole() -> None:
    with pytest.raises(SheetCodeUnread) as caught:
        parse_sheet_code("7" * 100_000)

    assert len(caught.value.code) == 60
