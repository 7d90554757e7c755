"""What a report tells of intersections, as models."""

from datetime import datetime
from decimal import Decimal
from typing import Literal

from schemas.findings import Verdict
from schemas.intersection_rules import CableStep
from schemas.numbers import Chainage, Kilonewtons, Metres, Offset
from schemas.part import Own


class StandsTold(Own):
    """A bolt or cable of an intersection, or a corner of its outline, in plan."""

    what: Literal["bolt", "cable", "corner"]
    chainage_m: Chainage
    across_m: Offset
    """To the right of the centre line, looking toward the face."""
    method: str
    plate: str | None = None
    length_m: Metres | None = None
    tension_kn: Kilonewtons | None = None
    batch: str = ""


class IntersectionTold(Own):
    """An intersection as it stood; two where two people revised it."""

    id: str
    label: str
    from_m: Chainage
    to_m: Chainage
    span_m: Decimal | None
    """In plan; None where its corners are no outline."""
    support_class: str
    cable: str
    cables: int
    step: CableStep
    done: int
    done_at: datetime
    signed_by: str
    """Who signed that it is plated; nothing where nobody did."""
    cables_wait: str
    """What is missing before its cables count; nothing where nothing is."""
    opened_at: datetime | None
    standard: str
    """By which it is judged; nothing where none is known."""
    verdict: Verdict | None
    because: str
    """What is worst of it; nothing where its class states no rule, or nothing is wrong."""
    in_force_now: str
    """What the standard in force says, where it is another thing."""
    stands: tuple[StandsTold, ...]
