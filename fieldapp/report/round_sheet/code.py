"""The code on a printed sheet: which round it shows, and the start of its assessment's hash.

`lastrow verify` takes it as it was scanned or as somebody typed it from the paper. It says
nothing about the mine and opens nothing: without this mine's records it is a number.

    LR1:S/7K3Q9XTR/4F2A91BC77E0/5
    ourselves · a round sheet / end of the round's id / start of the hash / check character
"""

from dataclasses import dataclass
from typing import Final

from schemas.check_character import (
    BITS_PER_DIGIT,
    as_digits,
    check_character,
    digits_of,
    reason_against,
)
from schemas.trouble import BadInput

PREFIX: Final = "LR1:S/"
ROUND_DIGITS: Final = 8
HASH_DIGITS: Final = 12
GROUP: Final = 4
LONGEST_SHOWN: Final = 60

_LENGTH: Final = ROUND_DIGITS + HASH_DIGITS + 1


@dataclass(eq=False)
class SheetCodeUnread(BadInput):
    """What was scanned or typed is no code of one of our sheets."""

    code: str
    reason: str
    happened = "“{code}” is not the code of a round sheet: {reason}."
    kept = "Nothing was looked up and nothing was changed."
    do_next = "Scan the square code, or type the groups printed beside it once more."


@dataclass(frozen=True)
class SheetCode:
    """Which round, and which assessment of it, a sheet shows."""

    round_end: str
    """Last 8 digits of the round's id, 40 bits: random in a UUID of version 7."""
    hash_start: str
    """First 12 digits of the assessment's SHA-256, 60 bits."""

    @property
    def payload(self) -> str:
        """What the square code holds: 29 characters, a version 2 symbol at level Q."""
        check = check_character(self.round_end + self.hash_start)
        return f"{PREFIX}{self.round_end}/{self.hash_start}/{check}"

    @property
    def readable(self) -> str:
        """The same for people, in groups: "7K3Q-9XTR-4F2A-91BC-77E0-5"."""
        digits = self.round_end + self.hash_start
        groups = [digits[start : start + GROUP] for start in range(0, len(digits), GROUP)]
        return "-".join([*groups, check_character(digits)])

    def is_of(self, round_id: str, assessment_sha256: str) -> bool:
        """Say whether this code belongs to that round and that assessment."""
        return self == sheet_code(round_id, assessment_sha256)


def sheet_code(round_id: str, assessment_sha256: str) -> SheetCode:
    """Make the code of a sheet.

    Raises
    ------
    ValueError
        The id is no UUID in hexadecimal, or the hash no SHA-256: a bug of the caller.
    """
    id_hex = round_id.replace("-", "")
    if len(id_hex) != 32 or len(assessment_sha256) != 64:  # noqa: PLR2004  hexadecimal digits
        raise ValueError("a sheet's code is made from a UUID and a SHA-256")
    round_bits, hash_bits = BITS_PER_DIGIT * ROUND_DIGITS, BITS_PER_DIGIT * HASH_DIGITS
    return SheetCode(
        round_end=digits_of(int(id_hex, 16) % (1 << round_bits), ROUND_DIGITS),
        hash_start=digits_of(int(assessment_sha256, 16) >> (256 - hash_bits), HASH_DIGITS),
    )


def parse_sheet_code(text: str) -> SheetCode:
    """Read a code as it was scanned, or typed with or without its prefix and groups.

    Raises
    ------
    SheetCodeUnread
        Another prefix, another length, a character that is no digit, or a check character
        that doesn't fit: every single wrong character and every swap of two is found.
    """
    digits = as_digits(text.strip().upper().removeprefix(PREFIX))
    reason = reason_against(digits, _LENGTH)
    if reason:
        raise SheetCodeUnread(code=text.strip()[:LONGEST_SHOWN], reason=reason)
    return SheetCode(digits[:ROUND_DIGITS], digits[ROUND_DIGITS:-1])
