"""Chance that is the same each time: a draw follows from what it is about, from nothing else.

A draw is a hash, so that a new draw in one place changes none in another.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from hashlib import sha256
from math import log
from statistics import NormalDist
from typing import Final, TypeVar

Thing = TypeVar("Thing")

_BYTES: Final = 6
_OF: Final = 2 ** (8 * _BYTES)
_TAIL: Final = 0.001
"""What is rarer on either side is not drawn: nobody tapes a row five metres ahead."""


@dataclass(frozen=True)
class Draws:
    """Draws of one seed."""

    seed: str

    def share(self, *about: object) -> float:
        """Give a number from 0 to below 1, each as likely."""
        words = " ".join(map(str, (self.seed, *about)))
        return int.from_bytes(sha256(words.encode()).digest()[:_BYTES], "big") / _OF

    def whether(self, chance: float, *about: object) -> bool:
        """Tell whether something happens that happens so often."""
        return self.share(*about) < chance

    def one_of(self, things: Sequence[Thing], *about: object) -> Thing:
        """Give one of them, each as likely."""
        return things[int(self.share(*about) * len(things))]

    def between(self, least: float, most: float, *about: object) -> float:
        """Give a number between two, each as likely."""
        return least + (most - least) * self.share(*about)

    def around(self, mean: float, deviation: float, *about: object) -> float:
        """Give a number that is normally distributed."""
        share = min(max(self.share(*about), _TAIL), 1 - _TAIL)
        return NormalDist(mean, deviation).inv_cdf(share)

    def wait(self, mean: float, *about: object) -> float:
        """Give how long it is until something happens that happens at a steady rate."""
        return -mean * log(1 - self.share(*about))

    def bytes(self, count: int, *about: object) -> bytes:
        """Give bytes for an id."""
        words = " ".join(map(str, (self.seed, "id", *about)))
        return sha256(words.encode()).digest()[:count]


def to_step(value: float, step: str) -> Decimal:
    """Give a value as an instrument of that step shows it."""
    size = Decimal(step)
    return (Decimal(repr(round(value / float(size)))) * size).quantize(size)
