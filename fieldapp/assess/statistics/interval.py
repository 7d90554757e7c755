"""An interval that holds the truth with a stated confidence."""

from dataclasses import dataclass
from decimal import Decimal


@dataclass(frozen=True)
class Interval:
    """From its lower to its upper end, in the unit of what it is about."""

    low: Decimal
    high: Decimal
