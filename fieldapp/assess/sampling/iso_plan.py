"""Single sampling plans of ISO 2859-1: how many are looked at, and how many bad ones stop it.

Tables as they are printed: the number of bad ones that is let pass, or an arrow to the next plan
in that direction, whose sample is taken too. A table that keeps its own sample size beside an
arrow is wrong.
"""

from bisect import bisect_left
from dataclasses import dataclass
from decimal import Decimal
from typing import Final, Literal

Level = Literal["S-1", "S-2", "S-3", "S-4", "I", "II", "III"]
Inspection = Literal["normal", "tightened"]

LETTERS: Final = "ABCDEFGHJKLMNPQR"
SIZES: Final = (2, 3, 5, 8, 13, 20, 32, 50, 80, 125, 200, 315, 500, 800, 1250, 2000)

_LARGEST: Final = (
    8, 15, 25, 50, 90, 150, 280, 500, 1200, 3200, 10_000, 35_000, 150_000, 500_000,
)  # fmt: skip
_LETTERS_BY_LOT: Final[dict[Level, str]] = {
    "S-1": "AAAABBBBCCCCDDD",
    "S-2": "AAABBBCCCDDDEEE",
    "S-3": "AABBCCDDEEFFGGH",
    "S-4": "AABCCDEEFGGHJJK",
    "I": "AABCCDEFGHJKLMN",
    "II": "ABCDEFGHJKLMNPQ",
    "III": "BCDEFGHJKLMNPQR",
}
_NORMAL: Final = {  # A B C D E F G H J K L M N P Q R
    "0.10": "↓ ↓ ↓ ↓ ↓ ↓ ↓ ↓ ↓ 0 ↑ ↓ 1 2 3 5",
    "0.15": "↓ ↓ ↓ ↓ ↓ ↓ ↓ ↓ 0 ↑ ↓ 1 2 3 5 7",
    "0.25": "↓ ↓ ↓ ↓ ↓ ↓ ↓ 0 ↑ ↓ 1 2 3 5 7 10",
    "0.40": "↓ ↓ ↓ ↓ ↓ ↓ 0 ↑ ↓ 1 2 3 5 7 10 14",
    "0.65": "↓ ↓ ↓ ↓ ↓ 0 ↑ ↓ 1 2 3 5 7 10 14 21",
    "1.0": "↓ ↓ ↓ ↓ 0 ↑ ↓ 1 2 3 5 7 10 14 21 ↑",
    "1.5": "↓ ↓ ↓ 0 ↑ ↓ 1 2 3 5 7 10 14 21 ↑ ↑",
    "2.5": "↓ ↓ 0 ↑ ↓ 1 2 3 5 7 10 14 21 ↑ ↑ ↑",
    "4.0": "↓ 0 ↑ ↓ 1 2 3 5 7 10 14 21 ↑ ↑ ↑ ↑",
    "6.5": "0 ↑ ↓ 1 2 3 5 7 10 14 21 ↑ ↑ ↑ ↑ ↑",
    "10": "↓ ↓ 1 2 3 5 7 10 14 21 ↑ ↑ ↑ ↑ ↑ ↑",
}
_TIGHTENED: Final = {
    "0.10": "↓ ↓ ↓ ↓ ↓ ↓ ↓ ↓ ↓ ↓ 0 ↓ ↓ 1 2 3",
    "0.15": "↓ ↓ ↓ ↓ ↓ ↓ ↓ ↓ ↓ 0 ↓ ↓ 1 2 3 5",
    "0.25": "↓ ↓ ↓ ↓ ↓ ↓ ↓ ↓ 0 ↓ ↓ 1 2 3 5 8",
    "0.40": "↓ ↓ ↓ ↓ ↓ ↓ ↓ 0 ↓ ↓ 1 2 3 5 8 12",
    "0.65": "↓ ↓ ↓ ↓ ↓ ↓ 0 ↓ ↓ 1 2 3 5 8 12 18",
    "1.0": "↓ ↓ ↓ ↓ ↓ 0 ↓ ↓ 1 2 3 5 8 12 18 ↑",
    "1.5": "↓ ↓ ↓ ↓ 0 ↓ ↓ 1 2 3 5 8 12 18 ↑ ↑",
    "2.5": "↓ ↓ ↓ 0 ↓ ↓ 1 2 3 5 8 12 18 ↑ ↑ ↑",
    "4.0": "↓ ↓ 0 ↓ ↓ 1 2 3 5 8 12 18 ↑ ↑ ↑ ↑",
    "6.5": "↓ 0 ↓ ↓ 1 2 3 5 8 12 18 ↑ ↑ ↑ ↑ ↑",
    "10": "↓ ↓ ↓ 1 2 3 5 8 12 18 ↑ ↑ ↑ ↑ ↑ ↑",
}
_TABLES: Final[dict[Inspection, dict[Decimal, list[str]]]] = {
    "normal": {Decimal(aql): column.split() for aql, column in _NORMAL.items()},
    "tightened": {Decimal(aql): column.split() for aql, column in _TIGHTENED.items()},
}
AQLS: Final = tuple(_TABLES["normal"])
"""Acceptable quality limits that have a column, in percent bad."""


@dataclass(frozen=True)
class Plan:
    """How many are looked at, and how many bad ones are one too many."""

    letter: str
    looks: int
    lets_pass: int
    """Ac: with more bad ones than so many, the rest is looked at or done again."""
    all_of_them: bool
    """The plan asks for as many as there are, or more."""

    @property
    def too_many(self) -> int:
        """Re, one more than is let pass."""
        return self.lets_pass + 1


def code_letter(lot: int, level: Level) -> str:
    """Give the code letter of a lot.

    Parameters
    ----------
    lot : int
        How many there are, at least one. [-]
    level : Level
        Inspection level: II unless there is a reason. [-]

    Returns
    -------
    str
        A to R, without I and O. [-]

    Source
    ------
    ISO 2859-1:1999, table 1 (the same as MIL-STD-105E, table I).
    """
    return _LETTERS_BY_LOT[level][bisect_left(_LARGEST, lot)]


def single_plan(
    lot: int, level: Level, aql_percent: Decimal, inspection: Inspection = "normal"
) -> Plan:
    """Give the single sampling plan of a lot, arrows followed with the sample of their plan.

    Parameters
    ----------
    lot : int
        How many there are, at least one. [-]
    level : Level
        Inspection level. [-]
    aql_percent : Decimal
        Acceptable quality limit, one of `AQLS`. [%]
    inspection : Inspection
        Normal, or tightened after bad lots. [-]

    Returns
    -------
    Plan
        All are looked at where the plan asks for as many as there are. [-]

    Source
    ------
    ISO 2859-1:1999, tables 1, 2-A and 2-B (the same as MIL-STD-105E, tables I, II-A and II-B).
    """
    letter = code_letter(lot, level)
    column = _TABLES[inspection][aql_percent]
    at = LETTERS.index(letter)
    while column[at] in "↓↑":
        at += 1 if column[at] == "↓" else -1
    looks = SIZES[at]
    return Plan(letter, min(looks, lot), int(column[at]), looks >= lot)
