"""What is asked of damage and on a walk: a question, its answers, and what each of them says."""

from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, Final, Literal


@dataclass(frozen=True)
class Picture:
    """Which step of a card is shown: of so many, from the mildest on."""

    of: Literal["damage", "rust"]
    step: int
    steps: int


@dataclass(frozen=True)
class Choice:
    """One answer on a chip or key."""

    label: str
    says: dict[str, Any]
    note: str = ""
    words: str = ""
    """What it stands for, in the standard's own words."""
    picture: Picture | None = None
    """What it looks like."""


CARDS: Final = Choice("Cards", {}, "in words")
"""Says nothing by itself: it leads to the answers with their words."""
UNKNOWN: Final = "?"


OTHER: Final = "Other…"


@dataclass(frozen=True)
class Digits:
    """An answer typed on the large pad."""

    unit: str
    limit: str
    largest: str
    says: Callable[[Decimal], dict[str, Any]]
    words: str = OTHER
    """On the key that leads to it."""
    smallest: str = ""
    """Empty: nothing is too small."""
    whole: bool = False
    """Whether only whole numbers answer it: the pad has no point then."""


def whole_number(
    unit: str,
    limit: str,
    largest: str,
    says: Callable[[int], dict[str, Any]],
    smallest: str = "0",
) -> Digits:
    """Give an answer that is counted: half a bolt is refused, not rounded off unseen."""
    return Digits(
        unit, limit, largest, lambda typed: says(int(typed)), smallest=smallest, whole=True
    )


@dataclass(frozen=True)
class Letters:
    """An answer in a person's own words."""

    longest: int
    says: Callable[[str], dict[str, Any]]
    words: str = OTHER
    unit: str = ""


@dataclass(frozen=True)
class Asked:
    """One thing to look at."""

    key: str
    ask: str
    hint: str
    choices: tuple[Choice, ...]
    digits: Digits | Letters | None = None
