"""What was done of an intersection, and when: its cables over days, and its breakaway."""

from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal

from schemas.bodies.intersection import Intersection


@dataclass(frozen=True)
class Done:
    """Every account of the cables, and when the breakaway was taken."""

    revisions: tuple[Intersection, ...] = ()
    """The first first."""
    opened_at: datetime | None = None
    """The first time; None: nobody said that it was."""
    cures_h: Decimal | None = None
    """How long the cables' grout cures; None: no standard here says it."""
