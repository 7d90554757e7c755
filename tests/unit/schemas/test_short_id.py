"""The short id of a label: from the thing alone, forgiving to fingers, strict to slips."""

from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fieldapp.report.round_sheet.code import sheet_code
from schemas.check_character import DIGITS, check_character
from schemas.short_id import (
    LETTERS,
    NotOurs,
    RoundSheetRead,
    ShortId,
    ShortIdUnread,
    scanned,
    short_id,
    typed,
)

DAMAGE = "01976f3a-52c4-7d10-9f4e-3b0a77c1e2d5"

uuids = st.uuids().map(str)
kinds = st.sampled_from(sorted(LETTERS))


def test_it_is_the_end_of_the_things_own_id() -> None:
    digits = short_id("damage", DAMAGE).digits

    # 0x0a77c1e2d5, five bits a digit, worked out by hand.
    assert int("".join(f"{DIGITS.index(it):05b}" for it in digits), 2) == 0x0A77C1E2D5
    assert len(digits) == 8


def test_the_payload_is_short_capital_and_says_what_it_is_on() -> None:
    made = short_id("damage", DAMAGE)

    assert made.payload == f"LR1:D/{made.digits}/{check_character(made.digits)}"
    assert len(made.payload) == 16  # of 29 that fit (ISO/IEC 18004, version 2, level Q)
    assert set(made.payload) <= set("0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:")


def test_no_two_kinds_share_a_letter_nor_a_sheet_s() -> None:
    assert len({*LETTERS.values(), "S"}) == len(LETTERS) + 1


@given(uuids, kinds)
def test_scanned_and_typed_alike_lead_to_the_thing(thing: str, kind: str) -> None:
    made = short_id(kind, thing)

    assert scanned(made.payload) == made
    assert typed(made.payload.lower()) == made
    assert typed(made.readable) == ShortId(made.digits)
    assert typed(f" {made.readable.lower().replace('-', '  ')}\n").is_of(thing)
    assert typed(made.readable.replace("0", "o").replace("1", "l")).is_of(thing)
    assert typed(made.readable.replace("1", "I")).is_of(thing)


@given(uuids)
def test_every_slip_of_a_finger_is_found(thing: str) -> None:
    right = short_id("damage", thing).readable.replace("-", "")
    wrong = {
        right[:place] + other + right[place + 1 :]
        for place in range(len(right))
        for other in DIGITS.replace(right[place], "")
    }
    wrong |= {_swapped(right, *pair) for pair in combinations(range(len(right)), 2)} - {right}

    for text in wrong:
        with pytest.raises(ShortIdUnread):
            typed(text)


def _swapped(text: str, one: int, other: int) -> str:
    letters = list(text)
    letters[one], letters[other] = letters[other], letters[one]
    return "".join(letters)


@pytest.mark.parametrize(
    "text",
    ["https://example.invalid/x", "7K3Q9XTR5", "LR2:D/7K3Q9XTR/5", "LR1:Q/7K3Q9XTR/5", "", "lr1:"],
)
def test_a_square_code_from_elsewhere_is_not_ours(text: str) -> None:
    with pytest.raises(NotOurs):
        scanned(text)


def test_what_a_square_code_from_elsewhere_says_is_not_shown_whole() -> None:
    with pytest.raises(NotOurs) as caught:
        scanned("wifi:" + "7" * 5_000)

    assert len(caught.value.code) == 60


def test_a_round_sheet_is_told_from_a_label() -> None:
    with pytest.raises(RoundSheetRead) as caught:
        scanned(sheet_code(DAMAGE, "4f" * 32).payload)

    assert "lastrow verify LR1:S/" in caught.value.sentences()[2]


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("", "it has 0 characters in place of 9"),
        ("7K3Q 9XTR", "it has 8 characters in place of 9"),
        ("7K3Q-9XTR-U", "“U” never stands in one"),
        ("7K3Q-9XTÉ-5", "“É” never stands in one"),
    ],
)
def test_what_is_no_short_id_is_refused_with_the_reason(text: str, reason: str) -> None:
    with pytest.raises(ShortIdUnread) as caught:
        typed(text)

    assert caught.value.reason == reason
