"""The short id on a label: the end of a thing's own id, and what the label's square code says.

    LR1:D/7K3Q9XTR/5
    ourselves · damage / last 40 bits of its id / check character

It follows from the id alone, so that any tablet can print and read a label without a network
or a register. It says nothing of the mine, the place or a person, and opens nothing: without
this mine's records it is a number. Those 40 bits are chance in a UUID of version 7: of 220
mines with 100,000 labelled things each, one has two things of one short id. Both are shown then.
"""

from dataclasses import dataclass
from functools import cached_property
from typing import Final
from uuid import UUID

from schemas.check_character import (
    BITS_PER_DIGIT,
    as_digits,
    check_character,
    digits_of,
    number_of,
    reason_against,
)
from schemas.trouble import BadInput

PREFIX: Final = "LR1:"
SHEET: Final = "S"
"""The letter of a round sheet's code, which is no label's (`fieldapp.report.round_sheet.code`)."""
LETTERS: Final[dict[str, str]] = {
    "damage": "D",
    "heading": "H",
    "survey_peg": "P",
    "bolt_test": "B",
}
"""Kinds of entries whose things bear labels, and the letter of each in a square code; a tested
bolt goes by its first test."""
LENGTH: Final = 8
LONGEST_SHOWN: Final = 60

_GROUP: Final = 4


@dataclass(eq=False)
class NotOurs(BadInput):
    """A square code that we did not make. What it says is neither followed nor opened."""

    code: str

    happened = "The square code is not ours: it says “{code}”."
    kept = "It was not opened, and nothing was changed."
    do_next = "Look for a label with a short id of eight characters and one more, or type that."


@dataclass(eq=False)
class RoundSheetRead(BadInput):
    """The code of a round sheet, not of a label."""

    code: str

    happened = "This is the code of a round sheet: {code}."
    kept = "Nothing was changed."
    do_next = "Check the sheet from a terminal: lastrow verify {code}."


@dataclass(eq=False)
class ShortIdUnread(BadInput):
    """What was typed is no short id."""

    code: str
    reason: str

    happened = "“{code}” is no short id: {reason}."
    kept = "Nothing was looked up and nothing was changed."
    do_next = "Look at the label once more: eight characters, then one to check them by."


@dataclass(frozen=True)
class ShortId:
    """The end of a thing's id, as it stands on its label."""

    digits: str
    kind: str | None = None
    """What the label is of, where a square code said it. People type the digits alone."""

    @property
    def payload(self) -> str:
        """What the square code holds: 16 capitals and digits."""
        letter = LETTERS[self.kind or ""]
        return f"{PREFIX}{letter}/{self.digits}/{check_character(self.digits)}"

    @property
    def readable(self) -> str:
        """The same for people: "7K3Q-9XTR-5"."""
        start, end = self.digits[:_GROUP], self.digits[_GROUP:]
        return f"{start}-{end}-{check_character(self.digits)}"

    def is_of(self, thing_id: str) -> bool:
        """Say whether a thing bears this short id."""
        return thing_id.endswith(self._end)

    @cached_property
    def _end(self) -> str:
        return f"{number_of(self.digits):010x}"


def short_digits(thing_id: str) -> str:
    """Give the last 40 bits of an id as eight digits.

    Raises
    ------
    ValueError
        It is no UUID: a bug of the caller.
    """
    return digits_of(UUID(thing_id).int % (1 << LENGTH * BITS_PER_DIGIT), LENGTH)


def short_id(kind: str, thing_id: str) -> ShortId:
    """Give the short id of a thing of a kind that bears labels."""
    return ShortId(short_digits(thing_id), kind)


def scanned(text: str) -> ShortId:
    """Read a short id as a square code says it.

    Raises
    ------
    NotOurs
        Something else made it, or a newer version that labels other things.
    RoundSheetRead
        It is a round sheet's.
    ShortIdUnread
        Its check character doesn't fit.
    """
    said = text.strip()[:LONGEST_SHOWN]
    letter, _, digits = text.strip().removeprefix(PREFIX).partition("/")
    if not text.strip().startswith(PREFIX):
        raise NotOurs(said)
    if letter == SHEET:
        raise RoundSheetRead(said)
    kind = next((it for it, known in LETTERS.items() if known == letter), None)
    if kind is None:
        raise NotOurs(said)
    return ShortId(_digits(digits, said), kind)


def typed(text: str) -> ShortId:
    """Read a short id as somebody typed it, or as a square code says it.

    Raises
    ------
    ShortIdUnread
        It has another length, a character that is no digit, or a check character that doesn't
        fit: every single wrong character and every swap of two is found.
    NotOurs, RoundSheetRead
        As `scanned` says.
    """
    if ":" in text:
        return scanned(text.upper())
    return ShortId(_digits(text, text.strip()[:LONGEST_SHOWN]))


def _digits(text: str, said: str) -> str:
    digits = as_digits(text)
    reason = reason_against(digits, LENGTH + 1)
    if reason:
        raise ShortIdUnread(said, reason)
    return digits[:LENGTH]
