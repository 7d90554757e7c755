"""What a month's report tells of work: frozen models, by heading and method, never by name."""

from datetime import datetime
from decimal import Decimal
from typing import Literal

from pydantic import Field

from fieldapp.assess.take_off import Kind
from schemas.bodies.work_seen import WorkMethod
from schemas.part import Own


class PaceTold(Own):
    """One of minutes per round, mesh per hour and cost per metre, over some time."""

    measure: str
    """Its key, as in `lastrow trends`."""
    title: str
    unit: str
    currency: str | None
    heading: str | None
    """None: every heading of the report together."""
    method: WorkMethod | None
    """None: nobody said how it was supported."""
    month: str | None = Field(pattern="^[0-9]{4}-(0[1-9]|1[0-2])$")
    """None: the twelve months to the end of the report's own."""
    rounds: int
    """Of which enough is stated."""
    median: Decimal
    low: Decimal | None
    high: Decimal | None
    """Between what the true median lies at 95 %; None: too few rounds."""
    days: int
    """From the first of those rounds to the last."""
    per_year: Decimal | None
    per_year_low: Decimal | None
    per_year_high: Decimal | None
    """How much it changes in a year, between what at 95 %; None: too few rounds."""


class BeyondTold(Own):
    """A round in which somebody went beyond the last row."""

    heading: str
    round: str
    at: datetime
    reason: str | None
    looked_into_at: datetime | None
    found: str | None
    """None: nobody has looked into it."""


class DelayTold(Own):
    """What held up work, of all headings together."""

    cause: str
    rounds: int
    minutes: int


class TakenTold(Own):
    """One thing that the rounds of a heading took: by their standard, and really."""

    heading: str
    thing: Kind
    of: str
    """Code of a bolt; empty where all of a kind are counted together."""
    unit: Literal["each", "m²"]
    rounds: int
    """That take it by their standard."""
    needed: Decimal
    """By all of them."""
    counted: int
    """Of those rounds, the ones in which somebody counted it."""
    by_standard: Decimal
    """Of the counted ones, by their standard."""
    used: Decimal | None
    difference: Decimal | None
    """How much more was used than those take; less where it is below nought."""


class WorkDone(Own):
    """The work of a month, beside that of the twelve months to its end."""

    rounds: int
    """Of the month."""
    stated: int
    """Of those, the ones of whose work anything is stated."""
    pace: tuple[PaceTold, ...]
    """Of each heading and method: in the month, and in twelve."""
    by_month: tuple[PaceTold, ...]
    """Of each method, every heading of the report together, the oldest month first."""
    beyond_said: int
    """Rounds of which somebody said whether anyone had to go beyond the last row."""
    beyond_stated: int
    """Of those, the ones in which somebody had to."""
    beyond_low_percent: Decimal | None
    beyond_high_percent: Decimal | None
    """Between what the share of rounds with somebody beyond lies, at 95 %."""
    beyond: tuple[BeyondTold, ...]
    delays_said: int
    """Rounds of which somebody said what held them up, or that nothing did."""
    delays: tuple[DelayTold, ...]
    """The longest first."""
    materials: tuple[TakenTold, ...]
