"""Codes that people read off paper: base 32 without I, L, O and U, and a check character.

Digits are Crockford's base 32, so that nothing is misread; whoever types may write O for 0, I
or L for 1, small letters, and gaps where they like.
"""

from typing import Final

DIGITS: Final = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
BITS_PER_DIGIT: Final = 5

_FIELD: Final = 32
_POLYNOMIAL: Final = 0b100101  # x⁵ + x² + 1: its root generates all 31 powers of GF(32)
_READ_AS: Final = str.maketrans({"O": "0", "I": "1", "L": "1"})
_SEPARATORS: Final = str.maketrans("", "", " -/.·\t\r\n\u00a0")


def digits_of(number: int, length: int) -> str:
    """Write the last bits of a number as so many digits."""
    return "".join(
        DIGITS[number >> (BITS_PER_DIGIT * place) & (_FIELD - 1)]
        for place in reversed(range(length))
    )


def number_of(digits: str) -> int:
    """Give the number that digits write."""
    number = 0
    for digit in digits:
        number = number << BITS_PER_DIGIT | DIGITS.index(digit)
    return number


def as_digits(typed: str) -> str:
    """Give what was typed without gaps, and what looks like a digit as the digit."""
    return typed.upper().translate(_SEPARATORS).translate(_READ_AS)


def reason_against(digits: str, length: int) -> str | None:
    """Say why digits, the check character the last of them, are no code; None when they are."""
    if ":" in digits:
        return "it was made by something else"
    stranger = next((letter for letter in digits if letter not in DIGITS), None)
    if stranger:
        return f"“{stranger}” never stands in one"
    if len(digits) != length:
        return f"it has {len(digits)} characters in place of {length}"
    if check_character(digits[:-1]) != digits[-1]:
        return "its last character doesn't fit the others, so one of them was misread"
    return None


def check_character(digits: str) -> str:
    """Give the check character: the sum of αⁱ·dᵢ over GF(32), the first digit at i = 1.

    Up to 30 digits each has a weight of its own, and none the weight 1 of the check itself:
    no single change and no swap, at any distance, leaves the sum as it was.

    Source
    ------
    Weighted sum over a finite field, R. W. Hamming's and ISBN-10's idea carried from a prime
    to GF(32); the two claims above are tried exhaustively in the tests.
    """
    total, weight = 0, 1
    for digit in digits:
        weight = _times(weight, 2)
        total ^= _times(weight, DIGITS.index(digit))
    return DIGITS[total]


def _times(one: int, other: int) -> int:
    product = 0
    while other:
        if other & 1:
            product ^= one
        one <<= 1
        if one & _FIELD:
            one ^= _POLYNOMIAL
        other >>= 1
    return product
