"""Whether damage that was seen again has grown."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from fieldapp.assess.damage.observed import NAMES, Observation, Quantity, readings
from schemas.numbers import rounded
from schemas.rehab_rules import GrowthRule

GROWING: Final[tuple[Quantity, ...]] = ("length", "width", "area", "bag_depth", "loose_mass")
_PERCENT: Final = Decimal(100)
_FROM_NOTHING: Final = Decimal(10)
"""What began at nothing and is there now counts as grown by so many times."""


@dataclass(frozen=True)
class Growth:
    """How much larger one quantity was read than once before."""

    quantity: str
    before: Decimal
    after: Decimal
    unit: str
    share: Decimal

    @property
    def words(self) -> str:
        """As it is said: "bagging depth grown from 200 to 300 mm, by 50 %"."""
        by = "" if not self.before else f", by {rounded(self.share * _PERCENT, Decimal(1))} %"
        return f"{self.quantity} grown from {self.before} to {self.after} {self.unit}{by}"


def growth(seen: Sequence[Observation], rule: GrowthRule | None) -> Growth | None:
    """Find what of a damage has grown most from one look to a later one, by the standard's rule.

    Parameters
    ----------
    seen : sequence of Observation
        Of one damage, in the order in which they were seen. [any]
    rule : GrowthRule or None
        From which share on it counts; None where the standard has no such rule. [-]

    Returns
    -------
    Growth or None
        The quantity of the largest share; None where nothing grew by so much. [any]

    Source
    ------
    Common practice, no source.
    """
    if rule is None:
        return None
    grown = [it for it in (_opened(seen), *_measured(seen)) if it and it.share >= rule.grown_by]
    return max(grown, key=lambda it: (it.share, it.quantity), default=None)


def _measured(seen: Sequence[Observation]) -> Iterator[Growth | None]:
    for quantity in GROWING:
        found = readings(seen, quantity, None)
        values = [it.value for it in found]
        yield _grown(NAMES[quantity], values, found[0].unit) if found else None


def _opened(seen: Sequence[Observation]) -> Growth | None:
    counted = [it.damage.extent.openings for it in seen if it.damage.extent.openings is not None]
    return _grown("hole", [Decimal(it) for it in counted], "openings") if counted else None


def _grown(quantity: str, values: Sequence[Decimal], unit: str) -> Growth | None:
    """Give the most that any reading grew by from one before it."""
    least, most = values[0], None
    for value in values[1:]:
        if value > least:
            share = (value - least) / least if least else _FROM_NOTHING
            if most is None or share > most.share:
                most = Growth(quantity, least, value, unit, share)
        least = min(least, value)
    return most
