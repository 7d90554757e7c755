"""What reports tell of how things went over the months: figures with their doubt, no words."""

from datetime import datetime
from decimal import Decimal

from fieldapp.work.trends import Grouping
from schemas.part import Own


class ValueTold(Own):
    """One figure of a trend, in the unit of what is followed."""

    at: datetime
    value: Decimal
    of: Decimal | None = None
    """Of a share: how much there was in all. None: it is no share."""
    low: Decimal | None = None
    """It lies between these at 95 %; None: that isn't known."""
    high: Decimal | None = None
    place: str = ""
    """Of which it is one reading; empty where it sums up several."""
    asks_why: bool = False
    """It lies outside the control limits, far from the one before, or in a run."""


class SlopeTold(Own):
    """How much something changes in a year: median of the slopes of each place."""

    per_year: Decimal
    low: Decimal
    """It lies between these at 95 %."""
    high: Decimal
    places: int
    """Each compared with itself alone; 1: everything was taken together."""

    @property
    def is_sure(self) -> bool:
        """Whether it surely rises or falls."""
        return self.low > 0 or self.high < 0


class LimitsTold(Own):
    """Between what single values usually lie: limits of an individuals chart."""

    lower: Decimal
    middle: Decimal
    upper: Decimal
    settled: bool
    """False: too few values for limits that stay."""


class TrendTold(Own):
    """How one thing went: in all that the report is of, or for one crew, batch, class, heading."""

    key: str
    title: str
    unit: str
    by: Grouping
    group: str
    """Its name; empty where everything counts together."""
    headings: int
    """Of how many headings it is."""
    points: int
    """Single values or months that it is made of."""
    began_at: datetime
    ended_at: datetime
    """Of the first and the last of them."""
    stands: ValueTold
    """The last value; of places, the worst of the last of each."""
    in_all: ValueTold | None
    """Of a share: all months together. None: it is no share, or its places are looked at again."""
    median: Decimal | None
    median_low: Decimal | None
    """The median lies between these at 95 %."""
    median_high: Decimal | None
    slope: SlopeTold | None
    """None: too few to tell."""
    limits: LimitsTold | None
    """None: what is followed has none, or there are too few values."""
    drawn: tuple[ValueTold, ...]
    """Each point, the oldest first: where everything counts together, or one type of bolt."""
