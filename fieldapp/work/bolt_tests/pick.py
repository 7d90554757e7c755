"""What the answers about a test are picked from, and what its questions share."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from typing import Final

from fieldapp.assess.bolt_tests import PutIn
from fieldapp.work.asked import Choice
from fieldapp.work.bolt_tests.draft import NO_MORE
from schemas.bodies.batch import Batch
from schemas.standard import Standard

AS_READ: Final = "as it is read"
NOT_KNOWN: Final = "not known"
MOST_DAYS: Final = "36500"


@dataclass(frozen=True)
class Rig:
    """A pull rig or wrench that was used before, and when it was calibrated last."""

    name: str
    checked_at: datetime | None
    turns: bool = False
    """Whether bolts were turned with it: a wrench."""


@dataclass(frozen=True)
class PickFrom:
    """What answers are picked from."""

    standard: Standard | None
    rounds: tuple[PutIn, ...]
    """Accepted ones of the heading."""
    face_m: Decimal
    crews: tuple[str, ...]
    batches: tuple[Batch, ...]
    """Every one that was entered, the newest first."""
    rigs: tuple[Rig, ...]
    today: datetime
    """In the mine's zone."""


def no_more(read: Sequence[object]) -> tuple[Choice, ...]:
    """Offer to end the readings, once there is one."""
    return (Choice("No more", {NO_MORE: True}, "all is read"),) if read else ()
