"""A hybrid logical clock: puts entries in an order that no wrong wall clock can spoil.

A reading is the wall clock's milliseconds, pushed up where needed, and a counter. It serves
the order on the screen and ties, never correctness. Pure: the wall clock is given.
"""

import re
from dataclasses import dataclass
from typing import Self

LARGEST_MS = 2**48 - 1
LARGEST_COUNT = 2**16 - 1
FARTHEST_HEARD_MS = 5 * 60 * 1000
"""What is heard from further ahead than this is not followed: one tablet with a clock years
ahead would drag all others along."""

_WRITTEN = re.compile(r"([0-9a-f]{12})-([0-9a-f]{4})")


@dataclass(frozen=True, order=True)
class LogicalTime:
    """One reading; its text sorts as it does."""

    ms: int
    count: int = 0

    def __post_init__(self) -> None:
        if not (0 <= self.ms <= LARGEST_MS and 0 <= self.count <= LARGEST_COUNT):
            raise ValueError(f"no logical time: {self.ms} ms, count {self.count}")

    @classmethod
    def from_text(cls, text: str) -> Self:
        """Read what `str` wrote; `ValueError` when it is anything else."""
        match = _WRITTEN.fullmatch(text)
        if match is None:
            raise ValueError(f"no logical time: {text[:40]!r}")
        return cls(int(match[1], 16), int(match[2], 16))

    def __str__(self) -> str:
        return f"{self.ms:012x}-{self.count:04x}"

    def next(self) -> "LogicalTime":
        """Give the reading right after this one; a full counter carries into the time."""
        if self.count < LARGEST_COUNT:
            return LogicalTime(self.ms, self.count + 1)
        return LogicalTime(self.ms + 1)


def farthest_followed(wall_ms: int) -> LogicalTime:
    """Give the latest time heard from others that is followed, by the wall clock here.

    What was stated later than that is taken in all the same.
    """
    return LogicalTime(wall_ms + FARTHEST_HEARD_MS, LARGEST_COUNT)


@dataclass(frozen=True)
class LogicalClock:
    """The clock of one tablet, known by its latest reading. Each step gives a new clock."""

    latest: LogicalTime = LogicalTime(0)

    def tick(self, wall_ms: int) -> "LogicalClock":
        """Advance for something that happens here; `latest` is its time."""
        return LogicalClock(max(self.latest.next(), LogicalTime(wall_ms)))
