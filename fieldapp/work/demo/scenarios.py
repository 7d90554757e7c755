"""Rounds with one thing to see, each with the verdict that it must come to.

Worked examples of what the standard means, looked at as the demo's rounds are. The tests hold
the checks to what people expect of them; no ledger is needed.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from decimal import Decimal
from hashlib import sha256
from typing import Final

from fieldapp.work.demo.story import (
    CUDDY,
    DECLINE,
    HEADINGS,
    JUNCTION,
    MAIN,
    ORE_N,
    ORE_S,
    DemoHeading,
    heading_body,
)
from fieldapp.work.demo.walking import Look, Looker, StoryClock, answered
from fieldapp.work.questions import Known
from fieldapp.work.round import RoundWork
from fieldapp.work.touches import AnyTouch
from schemas.bodies.heading import Heading
from schemas.bodies.round import BoltSeen, OldRow, ProfileSeen, Round
from schemas.findings import Verdict
from schemas.standard import Standard, SupportClass

_NOT_IN_A_LEDGER: Final = "0" * 64
"""The hash of a standard that nobody has adopted yet."""
_ROWS: Final = {"D1": 5, "O2": 4, "W3": 4}
_CREWS: Final = ("crew A", "crew B", "crew C")


@dataclass(frozen=True, eq=False)
class Scenario:
    """A round with a name: where, what is found that is not as standard, what it comes to."""

    name: str
    heading: str
    verdict: Verdict
    checks: tuple[str, ...] = ()
    """Checks that find a breach or a straddle, these and no other."""
    look: Look = field(default_factory=Look)


def _missing(position: int) -> BoltSeen:
    return BoltSeen(position=position, state="missing")


_BESIDE: Final = BoltSeen(
    position=6, state="present", plate="seated", s_m=Decimal("1.14"), method="tape", beside=True
)
_LOOSE: Final = BoltSeen(position=4, state="present", plate="loose")
_BROKEN_WIDER: Final = ProfileSeen(width_m=Decimal("5.4"), rise_m=Decimal("2.6"), method="laser")

CONFORMING: Final = Scenario("conforming", DECLINE, Verdict.ACCEPT)
BOLT_MISSING: Final = Scenario(
    "bolt missing in row 2",
    MAIN,
    Verdict.REWORK,
    ("bolts_present", "largest_gap", "load", "mesh_panel"),
    Look(marked={2: (_missing(7),)}),
)
TWO_MISSING: Final = Scenario(
    "two neighbouring bolts missing",
    ORE_S,
    Verdict.NO_ENTRY,
    ("neighbouring_bolts", "bolts_present", "largest_gap", "load"),
    Look(marked={2: (_missing(4), _missing(5))}),
)
SHORT_LAP: Final = Scenario(
    "lap of 2 openings of 3",
    MAIN,
    Verdict.REWORK,
    ("mesh_lap",),
    Look(answers={"lap 2": "2"}),
)
LOOSE_PLATE: Final = Scenario(
    "loose plate",
    DECLINE,
    Verdict.REWORK,
    ("plates_seated", "largest_gap", "mesh_panel"),
    Look(marked={3: (_LOOSE,)}),
)
RAGGED_FACE: Final = Scenario(
    "last row too far from a ragged face",
    DECLINE,
    Verdict.REWORK,
    ("last_row_to_face",),
    Look(answers={"face right": Decimal("1.25"), "face middle": Decimal("0.80")}),
)
AT_THE_LIMIT: Final = Scenario(
    "last row to the face at its limit",
    DECLINE,
    Verdict.MEASURE_AGAIN,
    ("last_row_to_face",),
    Look(answers={"face right": Decimal("0.995")}),
)
HALF_LOOKED_AT: Final = Scenario(
    "half looked at",
    ORE_N,
    Verdict.NOT_LOOKED_AT,
    look=Look(stops_before="ahead 3"),
)
# The longer profile asks for 10 bolts in a row. With 9 no row is complete, so the face stands
# all of the round from the last complete row; and at the joint the rock steps out.
OVERBREAK: Final = Scenario(
    "overbreak, and the sheet's bolts put in",
    MAIN,
    Verdict.NO_ENTRY,
    ("last_row_to_face", "bolts_present", "row_spacing"),
    Look(profile=_BROKEN_WIDER, answers={f"count {row}": Decimal(9) for row in range(1, 6)}),
)
TORQUE_LOW: Final = Scenario(
    "torque low",
    CUDDY,
    Verdict.REWORK,
    ("torque",),
    Look(answers={"torque 10": Decimal(150)}),
)
NOT_CURED: Final = Scenario(
    "shotcrete not yet cured",
    JUNCTION,
    Verdict.NO_ENTRY,
    ("curing",),
    Look(answers={"sprayed": "2 h ago", "strength": Decimal("0.7")}),
)
BESIDE: Final = Scenario(
    "bolt beside a hole given up",
    DECLINE,
    Verdict.ACCEPT,
    look=Look(answers={"blocked": "1"}, marked={2: (_BESIDE,)}),
)
WETTER: Final = Scenario(
    "wetter than expected, and told",
    DECLINE,
    Verdict.ACCEPT,
    look=Look(answers={"ground": "wetter", "called": "goes on as it is"}),
)
FAULT_NOT_TOLD: Final = Scenario(
    "a fault, and nobody told",
    DECLINE,
    Verdict.NO_ENTRY,
    ("ground_condition",),
    Look(answers={"ground": "fault or wedge"}, stops_before="called"),
)
STAGGERED: Final = Scenario("conforming, staggered", ORE_N, Verdict.ACCEPT)
WIDE: Final = Scenario("conforming, wide", JUNCTION, Verdict.ACCEPT)

SCENARIOS: Final = (
    CONFORMING,
    STAGGERED,
    WIDE,
    BESIDE,
    WETTER,
    AT_THE_LIMIT,
    HALF_LOOKED_AT,
    BOLT_MISSING,
    LOOSE_PLATE,
    SHORT_LAP,
    RAGGED_FACE,
    OVERBREAK,
    TORQUE_LOW,
    TWO_MISSING,
    NOT_CURED,
    FAULT_NOT_TOLD,
)
"""The mildest first."""


def work_of(
    scenario: Scenario, standard: Standard, at: datetime, line: str | None = None
) -> RoundWork:
    """Give a scenario's round as somebody begins to look at it now, each answer taken.

    `line` is that of the standard's entry, where it is one of a ledger.
    """
    place = next(it for it in HEADINGS if it.name == scenario.heading)
    support_class = standard.support_class(place.support_class)
    if support_class is None:
        raise ValueError(f"no class {place.support_class} in {standard.name}")
    begun = RoundWork(
        round_id=f"scenario {scenario.name}",
        draft_id=f"scenario {scenario.name}",
        heading=_fired(place, support_class),
        standard=standard,
        began=_began(place, support_class, at, line),
        standard_line=line,
    )
    looker = Looker(StoryClock(at), None, Known(crews=_CREWS))
    return answered(begun, scenario.look, looker, _in_hand)


def works(
    standard: Standard, at: datetime, line: str | None = None
) -> Iterator[tuple[Scenario, RoundWork]]:
    """Give every scenario with its round."""
    for scenario in SCENARIOS:
        yield scenario, work_of(scenario, standard, at, line)


def looked_at(work: RoundWork) -> datetime:
    """Give when the last answer was given: the time to judge it at."""
    return work.touches[-1].at if work.touches else work.began.started_at


def _in_hand(work: RoundWork, touch: AnyTouch) -> RoundWork:
    return work.touched(touch)


def _fired(place: DemoHeading, support_class: SupportClass) -> Heading:
    """Give the heading as it was entered once the round was fired: its face ahead of all rows."""
    entered = heading_body(place)
    fired_m = _ROWS[place.support_class] * support_class.pattern.row_spacing_m
    return entered.model_copy(update={"face_m": entered.face_m + fired_m})


def _began(
    place: DemoHeading, support_class: SupportClass, at: datetime, line: str | None
) -> Round:
    return Round(
        heading=place.name,
        number=place.last_round + 1,
        support_class=place.support_class,
        standard=sha256(line.encode()).hexdigest() if line else _NOT_IN_A_LEDGER,
        joint_m=Decimal(place.last_row_m),
        rows_planned=_ROWS[place.support_class],
        started_at=at - timedelta(minutes=1),
        old_rows=tuple(_old_rows(place, support_class)),
    )


def _old_rows(place: DemoHeading, support_class: SupportClass) -> Iterator[OldRow]:
    pattern = support_class.pattern
    for back in (1, 0):
        chainage_m = Decimal(place.last_row_m) - back * pattern.row_spacing_m
        yield OldRow(chainage_m=chainage_m, staggered=pattern.kind == "staggered" and back == 1)
