"""The code of a printed report: of what, as at when, and the start of the hash of its facts.

Whoever has the mine's records gathers the same facts again as at that time: `lastrow verify`
takes the code as it was scanned or typed. It says nothing about the mine by itself.

    LR1:R/J/7K3Q9XTR/00A1B2C/4F2A91BC77E/5
    ourselves, a report / heading, month or rehab list / end of what it is of / seconds since
    2020 / start of the hash / check character
"""

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import Final, Literal

from fieldapp.report.round_sheet.code import GROUP, LONGEST_SHOWN, SheetCodeUnread
from schemas.check_character import (
    BITS_PER_DIGIT,
    as_digits,
    check_character,
    digits_of,
    number_of,
    reason_against,
)

PREFIX: Final = "LR1:R/"
KINDS: Final[dict[str, str]] = {"H": "heading", "M": "month", "R": "rehab"}
MAKINGS: Final = ("HMR", "JNS", "KPT")
"""The letters of the kinds, by every way in which facts were ever put together: a release that
puts them together otherwise adds its own, since an older page then comes to another hash."""
NEWEST: Final = len(MAKINGS) - 1
OF_DIGITS: Final = 8
TIME_DIGITS: Final = 7
HASH_DIGITS: Final = 11
EPOCH: Final = datetime(2020, 1, 1, tzinfo=UTC)
LENGTH: Final = 1 + OF_DIGITS + TIME_DIGITS + HASH_DIGITS + 1
_SECOND: Final = timedelta(seconds=1)


@dataclass(frozen=True)
class ReportCode:
    """Which report, as at when, and what it says."""

    kind: Literal["H", "M", "R"]
    of: str
    """End of the heading's id; the month; nothing but zeros for every heading."""
    seconds: int
    """Since 2020."""
    hash_start: str
    making: int = NEWEST

    @property
    def is_older(self) -> bool:
        """Whether it was made in a way by which this version puts no facts together any more."""
        return self.making < NEWEST

    @property
    def letter(self) -> str:
        """Of its kind, by the way in which it was made."""
        return MAKINGS[self.making][tuple(KINDS).index(self.kind)]

    @property
    def at(self) -> datetime:
        """The time for which it was asked."""
        return EPOCH + self.seconds * _SECOND

    @property
    def digits(self) -> str:
        """All of it, the check character at the end."""
        plain = f"{self.letter}{self.of}{digits_of(self.seconds, TIME_DIGITS)}{self.hash_start}"
        return plain + check_character(plain)

    @property
    def payload(self) -> str:
        """What the square code holds."""
        parts = (self.letter, self.of, digits_of(self.seconds, TIME_DIGITS), self.hash_start)
        return f"{PREFIX}{'/'.join((*parts, self.digits[-1]))}"

    @property
    def readable(self) -> str:
        """The same for people, in groups of four."""
        digits = self.digits
        return "-".join(digits[it : it + GROUP] for it in range(0, len(digits), GROUP))


def of_number(number: int) -> str:
    """Give the end of a number as it stands in a code."""
    return digits_of(number % (1 << BITS_PER_DIGIT * OF_DIGITS), OF_DIGITS)


def report_code(
    kind: Literal["H", "M", "R"], of: str, as_at: datetime, facts_sha256: str
) -> ReportCode:
    """Make the code of a report.

    Raises
    ------
    ValueError
        It is asked as at a time before 2020, or the hash is no SHA-256: a bug of the caller.
    """
    seconds = (as_at - EPOCH) // _SECOND
    if seconds < 0 or len(facts_sha256) != 64:  # noqa: PLR2004  hexadecimal digits
        raise ValueError("a report's code is made from a time since 2020 and a SHA-256")
    return ReportCode(
        kind=kind,
        of=of,
        seconds=seconds,
        hash_start=digits_of(
            int(facts_sha256, 16) >> (256 - BITS_PER_DIGIT * HASH_DIGITS), HASH_DIGITS
        ),
    )


def is_report_code(text: str) -> bool:
    """Whether what was scanned or typed is as long as the code of a report."""
    return len(_digits(text)) == LENGTH


def parse_report_code(text: str) -> ReportCode:
    """Read a code as it was scanned, or typed with or without its prefix and groups.

    Raises
    ------
    SheetCodeUnread
        It is no code of a report: every single wrong character and every swap is found.
    """
    digits = _digits(text)
    reason = reason_against(digits, LENGTH)
    making = next((nth for nth, it in enumerate(MAKINGS) if digits[:1] in it), None)
    if not reason and making is None:
        reason = "it was made by a newer version"
    if reason or making is None:
        raise SheetCodeUnread(code=text.strip()[:LONGEST_SHOWN], reason=reason or "")
    of, seconds = digits[1 : 1 + OF_DIGITS], digits[1 + OF_DIGITS :][:TIME_DIGITS]
    kinds: tuple[Literal["H", "M", "R"], ...] = ("H", "M", "R")
    kind = kinds[MAKINGS[making].index(digits[0])]
    return ReportCode(kind, of, number_of(seconds), digits[-1 - HASH_DIGITS : -1], making)


def _digits(text: str) -> str:
    return as_digits(text.strip().upper().removeprefix(PREFIX))
