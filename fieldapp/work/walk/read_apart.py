"""Distances that were read twice on one day and differ by more than both may be off."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal
from typing import Final

from schemas.bodies.walk import DistanceRead
from schemas.numbers import text

COVERAGE: Final = 2
"""Expanded over standard uncertainty, for 95 % (JCGM 100:2008, 6.3.3)."""
_STEP_MM: Final = Decimal("0.1")


@dataclass(frozen=True)
class Apart:
    """Two readings of one station on one day: rock moved within the day, or one is wrong."""

    station: str
    by_mm: Decimal
    doubt_mm: Decimal
    """By how much they may differ while both are right."""

    @property
    def words(self) -> str:
        """Say it: "CV-7 was read 50 mm apart on one day, doubt ± 28.3 mm: read it again"."""
        by, doubt = text(self.by_mm), text(self.doubt_mm)
        return (
            f"{self.station} was read {by} mm apart on one day, doubt ± {doubt} mm: read it again"
        )


def read_apart(read: Iterable[DistanceRead], others: Iterable[DistanceRead]) -> tuple[Apart, ...]:
    """Find the stations of which another reading of the day differs, the farthest of each."""
    return tuple(_apart(read, tuple(others)))


def doubt_between(one: DistanceRead, other: DistanceRead) -> Decimal:
    """Give by how much two readings may differ while both are right [mm], at 95 %."""
    doubt_mm: Decimal = COVERAGE * (one.u_mm**2 + other.u_mm**2).sqrt()
    return doubt_mm.quantize(_STEP_MM, ROUND_CEILING)


def _apart(read: Iterable[DistanceRead], others: tuple[DistanceRead, ...]) -> Iterator[Apart]:
    for it in read:
        same = (one for one in others if (one.station, one.between) == (it.station, it.between))
        farthest = max(same, key=lambda one: abs(one.read_mm - it.read_mm), default=None)
        if farthest is not None:
            by_mm = abs(farthest.read_mm - it.read_mm)
            doubt_mm = doubt_between(it, farthest)
            if by_mm > doubt_mm:
                yield Apart(it.station, by_mm, doubt_mm)
