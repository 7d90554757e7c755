"""What a finger meant: a glove's touch is 15 mm wide, and bolts may lie closer than that."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot

REACH_MM = 10.0
"""Farther from every mark than this, a finger means the ground."""
CLEARLY_NEARER_MM = 3.0
MOST_CHOICES = 6


@dataclass(frozen=True)
class Picked:
    """Indices of the marks that a finger may have meant, the nearest first.

    None: the ground was meant. One: it is clear. Several: a person has to choose.
    """

    marks: tuple[int, ...]

    @property
    def is_clear(self) -> bool:
        """Whether exactly one mark was meant."""
        return len(self.marks) == 1


def picked(
    marks: Sequence[tuple[float, float]], at: tuple[float, float], px_per_mm: float
) -> Picked:
    """Find the mark at a touch: the nearest wins when it is at least 3 mm nearer than the next."""
    far = sorted(
        (hypot(x - at[0], y - at[1]) / px_per_mm, index) for index, (x, y) in enumerate(marks)
    )
    if not far or far[0][0] > REACH_MM:
        return Picked(())
    nearest = far[0][0]
    close = [index for distance, index in far if distance < nearest + CLEARLY_NEARER_MM]
    return Picked(tuple(close[:MOST_CHOICES]))
