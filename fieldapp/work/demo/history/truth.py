"""What is true of the Wrenfall mine: what every trend of its past is there to find.

Nobody at the mine knows these numbers. The simulator makes what happened from them, people see
some of that, and the tests look whether what they stated leads back to them.
"""

from dataclasses import dataclass
from datetime import timedelta
from typing import Final

from schemas.bodies.work_seen import WorkMethod

SEED: Final = "Wrenfall 4155"
LASTS: Final = timedelta(days=548)
"""A year and a half of records."""

ENDS: Final = LASTS.days - 4
"""The story of the last days begins soon after: whatever closes a way is repaired by then."""
YEAR_DAYS, MONTH_DAYS = 365.25, 30.4


@dataclass(frozen=True)
class Crew:
    """How a crew works."""

    name: str
    not_right_first: float
    """Share of its rounds with something to be put right."""
    laps_openings: float
    """How many openings its sheets lap beyond what is demanded, on average."""
    to_face_share: float
    """How far its last row stands from the face, as a share of what is allowed."""
    in_haste: float
    """Share of its rounds that are looked at in a hurry at the end of the shift."""
    pace: float
    """Of the time that others take for the same ground, it takes this share."""
    goes_beyond: float
    """Share of its rounds by hand in which somebody goes beyond the last row."""


CREW_A: Final = Crew("crew A", 0.05, 1.4, 0.78, 0.0, 1.0, 0.03)
CREW_B: Final = Crew("crew B", 0.08, 1.2, 0.80, 0.03, 1.0, 0.03)
CREW_C: Final = Crew("crew C", 0.34, 0.35, 0.90, 0.70, 0.84, 0.3)
"""In a hurry: short laps, the last row far from the face, rows answered in seconds."""
CREWS: Final = (CREW_A, CREW_B, CREW_C)


@dataclass(frozen=True)
class Resin:
    """A batch of resin, and what its bolts hold when they are pulled."""

    label: str
    until_day: int
    """Used until so many days after the record began."""
    strength_kn: float
    deviation_kn: float


MINUTES_PER_M2: Final[dict[WorkMethod, float]] = {"mechanised": 2.3, "hand-held": 3.5}
"""Of rock that a round supports, without delays."""
PACE_SPREAD: Final = 0.06
"""Standard deviation from round to round, as a share."""
PEOPLE: Final[dict[WorkMethod, int]] = {"mechanised": 2, "hand-held": 4}
DELAYED: Final = 0.22
"""Share of rounds that something held up."""
DELAY_MIN: Final = (10, 20, 30, 45)
SPOILT: Final = 0.04
"""Of bolts: so many more go in than are counted in the rows, on average."""

GOOD_KN, SPREAD_KN = 142.0, 13.0
BAD_RESIN: Final = Resin("RES-0106", 320, 90.0, 14.0)
"""It was stored too warm: bolts slip at two thirds of what the others hold."""
RESINS: Final = (
    *(Resin(f"RES-{100 + n:04}", 60 * n, GOOD_KN, SPREAD_KN) for n in range(1, 5)),
    Resin("RES-0105", 280, GOOD_KN, SPREAD_KN),
    BAD_RESIN,
    *(Resin(f"RES-{100 + n:04}", 320 + 60 * (n - 6), GOOD_KN, SPREAD_KN) for n in range(7, 11)),
)

POINT_ANCHOR_KN, POINT_ANCHOR_SPREAD_KN = 118.0, 12.0
LONG_BAR_KN, LONG_BAR_SPREAD_KN = 205.0, 14.0
TORQUE_NM, TORQUE_SPREAD_NM = 272.0, 16.0
TORQUE_LOST_SHARE: Final = 0.10
"""Of its tension a bolt beside blasting loses so much in a year."""

CABLE_KN, CABLE_SPREAD_KN = 62.0, 3.0
"""Tension of a long bolt beneath an intersection once it is plated."""

SHOTCRETE_MPA, SHOTCRETE_SPREAD_MPA = 38.0, 2.6
"""Of a core at the age at which it is pressed, and from core to core."""
WEAK_ROUND, WEAK_MPA = 6, 21.0
"""It was sprayed with too much water."""
NEVER_CORED: Final = (8, 11)
"""Rounds from whose shotcrete nobody took a set."""


@dataclass(frozen=True)
class Wet:
    """A stretch where water runs, and how fast metal goes there."""

    heading: str
    from_m: int
    to_m: int
    zinc_um: float
    """On each surface of the mesh wire when it was put up, long before the record."""
    put_up_days_before: int
    """Before the record began."""
    zinc_um_per_year: float
    steel_um_per_year: float
    """On each surface, once the zinc is gone; bars have none."""


WET: Final = Wet("4180 Main", 460, 500, 40.0, 1650, 7.8, 165.0)
"""Zinc lasts some five years there, so that it goes in the course of the record. Steel then goes
as in category C5 (ISO 9223:2012, Table 2: 80 to 200 µm in the first year)."""
DRY_STEEL_UM_PER_YEAR: Final = 12.0
"""Elsewhere, as in category C2."""

BAR_MM, WIRE_MM = 20.0, 5.6
CALLIPER_MM: Final = 0.05
"""Standard deviation of a calliper's readings on rusty steel."""
LOOSE_SHARE: Final = 0.012
"""Of old bolts, found loose where they are looked at one by one."""

TRAFFIC_A_MONTH: Final = {
    "Wrenfall Decline": 1.1,
    "4180 Main": 0.5,
    "4155 Main": 0.5,
    "4155 Ore Drive S": 0.15,
}
"""Damage by vehicles in a month; elsewhere none."""
BLASTING_A_MONTH: Final = {"4155 Ore Drive S": 0.55, "4180 Ore Drive N": 0.3}
"""Damage by stope blasts nearby in a month."""
BLASTS_A_MONTH: Final = {"4155 Ore Drive S": 1.3, "4180 Ore Drive N": 0.6}
"""Stope blasts that are stated, whether they damage anything or not."""
STRESS_A_MONTH: Final = {"Wrenfall Decline": 0.25, "4155 Main": 0.2, "4180 Main": 0.1}

TOLD_AT_ONCE: Final = 0.35
"""Share of what vehicles do that the driver tells of; the rest is found on a walk."""
LATE_REPAIRS: Final = 0.22
"""Share of repairs that are finished after they were due."""
GROWS_A_MONTH: Final = 0.18
"""Bagged mesh hangs so much farther each month, until it is repaired."""


@dataclass(frozen=True)
class Tremor:
    """A seismic event, and the mesh that it bagged."""

    heading: str
    day: int
    at_m: int
    bags: int
    reach_m: int
    closed_mm: float
    """How far the walls came together at once."""
    closes_mm_a_month: float


TREMOR: Final = Tremor("4155 Ore Drive S", 352, 96, 6, 30, 9.0, 0.8)


def convergence_mm(day: float) -> float:
    """Give how far the walls have come together at the tremor's place by a day."""
    if day < TREMOR.day:
        return 0.0
    months = (day - TREMOR.day) / MONTH_DAYS
    return TREMOR.closed_mm + TREMOR.closes_mm_a_month * months
