"""What has happened at the Wrenfall mine in the last days, step by step.

Each step is an hour before the present and one thing that somebody did. The steps of all
headings are done in the order of time, as they would have been.
"""

from dataclasses import dataclass, field
from decimal import Decimal
from typing import Final

from fieldapp.work.demo.walking import Look
from schemas.bodies.heading import Heading
from schemas.bodies.round import BoltSeen
from schemas.bodies.sign_off import Decision


@dataclass(frozen=True)
class DemoHeading:
    """A heading as it was entered, in the order in which the board shows it."""

    name: str
    level: str
    support_class: str
    last_row_m: str
    face_m: str
    last_round: int


@dataclass(frozen=True)
class Fired:
    """A round was fired at the face."""

    hours_ago: float
    heading: str
    metres: str


@dataclass(frozen=True)
class Inspected:
    """Somebody inspected after the exclusion time."""

    hours_ago: float
    heading: str


@dataclass(frozen=True)
class LookedAt:
    """A supported round was looked at, and signed unless `decision` is None."""

    hours_ago: float
    heading: str
    rows: int
    decision: Decision | None = "accepted"
    look: Look = field(default_factory=Look)


Step = Fired | Inspected | LookedAt

DECLINE: Final = "Wrenfall Decline"
MAIN: Final = "4180 Main"
READY: Final = "4155 Main"
"""Fired, inspected and supported: five rows of nine bolts wait to be looked at."""
ORE_N: Final = "4180 Ore Drive N"
ORE_S: Final = "4155 Ore Drive S"
CUDDY: Final = "4130 Cuddy 2"
JUNCTION: Final = "4155 Junction"

HEADINGS: Final = (
    DemoHeading(DECLINE, "Decline", "D1", "1382.20", "1383.00", 410),
    DemoHeading(MAIN, "4180", "D1", "607.60", "608.40", 86),
    DemoHeading(READY, "4155", "D1", "298.60", "299.40", 63),
    DemoHeading(ORE_N, "4180", "O2", "142.80", "143.80", 21),
    DemoHeading(ORE_S, "4155", "O2", "227.00", "228.00", 59),
    DemoHeading(CUDDY, "4130", "O2", "37.00", "38.00", 9),
    DemoHeading(JUNCTION, "4155", "W3", "61.20", "62.20", 14),
)

TWO_MISSING: Final = Look(
    answers={"blocked": "2"},
    marked={
        2: (
            BoltSeen(position=6, state="missing"),
            BoltSeen(position=7, state="missing"),
        )
    },
)
"""Two neighbouring bolts are missing in the right shoulder: nobody goes beneath."""

LOOSE_AND_SHORT: Final = Look(
    answers={"lap 1": Decimal("210")},
    marked={1: (BoltSeen(position=5, state="present", plate="loose"),)},
)
"""A loose plate, and a lap of 210 mm."""

CALLED_AWAY: Final = Look(stops_before="count 2")

STORY: Final[tuple[Step, ...]] = (
    Fired(62.0, JUNCTION, "3.6"),
    Inspected(61.0, JUNCTION),
    LookedAt(34.0, JUNCTION, rows=3),
    Fired(33.0, DECLINE, "3.6"),
    Fired(32.9, READY, "4.5"),
    Fired(32.8, ORE_N, "2.4"),
    Fired(32.7, ORE_S, "2.4"),
    Fired(32.6, CUDDY, "2.4"),
    Inspected(31.5, DECLINE),
    Inspected(31.4, READY),
    Inspected(31.3, ORE_N),
    Inspected(31.2, ORE_S),
    Inspected(31.1, CUDDY),
    LookedAt(28.0, DECLINE, rows=4),
    LookedAt(27.7, READY, rows=5),
    LookedAt(27.4, ORE_N, rows=2),
    LookedAt(27.1, ORE_S, rows=2),
    LookedAt(26.8, CUDDY, rows=2),
    Fired(9.0, MAIN, "3.6"),
    Fired(8.9, DECLINE, "3.6"),
    Fired(8.8, ORE_N, "2.4"),
    Fired(8.7, ORE_S, "3.6"),
    Fired(8.6, READY, "4.5"),
    Inspected(8.0, MAIN),
    Inspected(7.9, DECLINE),
    Inspected(7.8, ORE_N),
    Inspected(7.7, ORE_S),
    Inspected(7.6, READY),
    LookedAt(3.0, MAIN, rows=4),
    LookedAt(2.6, DECLINE, rows=4, decision="barricaded", look=TWO_MISSING),
    Fired(2.4, CUDDY, "2.1"),
    LookedAt(2.1, ORE_N, rows=2, decision="sent back", look=LOOSE_AND_SHORT),
    Inspected(1.4, CUDDY),
    LookedAt(0.4, ORE_S, rows=3, decision=None, look=CALLED_AWAY),
)


def heading_body(place: DemoHeading) -> Heading:
    """Give the heading as it is stated."""
    return Heading(
        name=place.name,
        level=place.level,
        support_class=place.support_class,
        face_m=Decimal(place.face_m),
        last_row_m=Decimal(place.last_row_m),
        last_round=place.last_round,
        supported_before=True,
        demo=True,
    )
