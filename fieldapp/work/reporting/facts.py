"""The facts of reports: frozen models, written as canonical JSON.

Lengths are in metres, places by chainage, times with their zone. Nothing is in words that a
figure can say; words that a person stated stay as they were stated.
"""

import hashlib
from datetime import datetime
from decimal import Decimal
from typing import Literal, TypeAlias

from pydantic import Field

from fieldapp.assess.bolt_tests.result import Outcome as TestOutcome
from fieldapp.work.reporting.told import (
    DamageTold,
    EventTold,
    JudgedOtherwise,
    PhotoTold,
    RepairTold,
    RoundTold,
)
from fieldapp.work.reporting.told_of_intersections import IntersectionTold
from fieldapp.work.reporting.told_of_trends import TrendTold
from fieldapp.work.reporting.told_of_work import WorkDone
from schemas.bodies.bolt_test import BoltTestKind, Why
from schemas.bodies.damage import DamageZone
from schemas.bodies.heading import Rechained, SurveyedPoint
from schemas.bodies.rehab import RehabState
from schemas.bodies.walk import SupportPart
from schemas.canonical import canonical_bytes
from schemas.corrosion_rules import CorrosionRate, Corrosivity, Steel
from schemas.findings import Verdict
from schemas.numbers import Chainage, Offset
from schemas.part import Own
from schemas.standard import SupportClass


class StretchTold(Own):
    """From where to where something is, along the heading."""

    from_m: Chainage
    to_m: Chainage


class WalkTold(Own):
    """One outing of a condition walk, by one person."""

    month: str
    """Whose plan it worked on."""
    began_at: datetime
    by: str
    from_m: Chainage
    to_m: Chainage
    stretches: tuple[StretchTold, ...]
    """What of that was answered: sections beside each other together."""
    sections: int
    """Answered, whether they could be reached or not."""
    something_new: int
    not_reached: int
    damages: int
    """Recorded on the spot."""


class WalkDue(Own):
    """What is still to be looked at, at the time of the report."""

    sections: int
    """Of the heading's supported ground in all."""
    due: int
    """By the end of the month."""
    late: int
    latest_days: int
    """How late the latest is."""
    never_looked_at: int
    """Of those that are due."""


class SteelTold(Own):
    """One piece of old steel that was read on walks, or a kind of it that nobody read.

    What nobody read is judged by its age alone, of all of its kind what has least left. None: not
    known.
    """

    part: SupportPart
    zone: DamageZone | None
    steel: Steel
    chainage_m: Chainage
    s_m: Offset | None
    new_mm: Decimal
    to_m: Chainage | None
    """To where steel of its kind reaches that nobody read; None: it is one piece, which was."""
    readings: int
    last_read_at: datetime | None
    last_read_mm: Decimal | None
    share_at_most: Decimal | None
    """Of its capacity that is left at the time of the report, of the visible part."""
    share_at_least: Decimal
    """That must be left by the standard."""
    rate_um_per_year: Decimal | None
    """Lost from each surface, by dated readings, and between what at 95 %."""
    rate_from_um_per_year: Decimal | None
    rate_to_um_per_year: Decimal | None
    iso_9223: Corrosivity | None
    """In whose first year bare steel goes as fast in open air: beside the rate, no verdict."""
    standards_rate: CorrosionRate | None
    """Where years go by it."""
    years_from: Decimal | None
    years_to: Decimal | None
    words: str
    how_fast: tuple[str, ...]


class TestTold(Own):
    """One test of support, and what it comes to."""

    id: str
    label: str
    kind: BoltTestKind
    tested_at: datetime
    why: Why
    chainage_m: Chainage
    s_m: Offset | None
    zone: DamageZone
    bolt_type: str | None
    batch: str | None
    crew: str | None
    outcome: TestOutcome
    because: str
    """What was measured."""
    touched_over_s: int | None = None
    """From the first reading to the last word on the hold, as the tablet was touched."""
    limit: str
    clause: str
    photos: tuple[PhotoTold, ...] = ()


class TestsDue(Own):
    """Tests that are to be made and are not."""

    kind: BoltTestKind
    bolt_type: str | None
    tests: int
    """How many are still to be made."""
    of: int
    from_m: Chainage
    to_m: Chainage
    because: str


class EntryTold(Own):
    """Where people might go, at the time of the report."""

    line_m: Chainage
    face_m: Chainage
    outbye: str
    beyond: str
    because: tuple[str, ...]
    mark: Verdict | None
    signed_m: Chainage
    fired_m: Chainage


class MonthTold(Own):
    """What came of one month in one heading, or in several together."""

    month: str = Field(pattern="^[0-9]{4}-(0[1-9]|1[0-2])$")
    fired_m: Chainage
    """Metres of the firings that were stated in it."""
    signed_m: Chainage
    """Of those, the metres that lie under accepted rounds by the time of the report."""
    signed_off: int
    """Rounds about which somebody first decided in it."""
    accepted_first: int
    """Of those, the ones that were accepted the first time."""
    last_row_to_face_m: Chainage | None
    """The greatest that was read in it."""
    damage_found: int
    damage_repaired: int


class HeadingTold(Own):
    """One heading, and how it stands."""

    id: str
    name: str
    level: str
    support_class: str
    entry: EntryTold
    open_damage: int
    overdue: int


class Facts(Own):
    """What every report says of itself."""

    mine: str
    demo: bool
    zone: str
    as_at: datetime
    """The time for which it is asked, and up to which entries were known."""
    method_version: int
    lacking: tuple[str, ...] = ()
    """What has to be known about these records before anybody goes by them."""


class PlacedFacts(Facts):
    """What lies along one heading, and where that is."""

    heading: HeadingTold
    support: SupportClass | None
    """What is demanded there now; None where no standard has its class."""
    surveyed: tuple[SurveyedPoint, ...]
    rechained: tuple[Rechained, ...]
    rounds: tuple[RoundTold, ...]
    damages: tuple[DamageTold, ...]


class RoundFacts(PlacedFacts):
    """One round, with all that was found, and the damage that was seen in its ground."""

    kind: Literal["round"] = "round"


class HeadingFacts(PlacedFacts):
    """A heading's history."""

    kind: Literal["heading"] = "heading"
    events: tuple[EventTold, ...]
    repairs: tuple[RepairTold, ...]
    walks: tuple[WalkTold, ...]
    walk_due: WalkDue | None
    """None: no standard says how to walk."""
    steel: tuple[SteelTold, ...]
    """From the origin inbye."""
    tests: tuple[TestTold, ...]
    """The newest first."""
    tests_due: tuple[TestsDue, ...]
    intersections: tuple[IntersectionTold, ...] = ()
    """Outbye first."""
    months: tuple[MonthTold, ...]
    """The oldest first, none left out between."""
    trends: tuple[TrendTold, ...]


class HeadingMonth(Own):
    """What came of the month in one heading."""

    heading: HeadingTold
    month: MonthTold
    rounds: tuple[RoundTold, ...]
    """Those that were recorded in it."""
    judged_otherwise: tuple[JudgedOtherwise, ...]
    """Those of them that the standard in force judges otherwise than that of their day."""
    found: tuple[DamageTold, ...]
    repaired: tuple[RepairTold, ...]
    """Verified in it."""
    walks: tuple[WalkTold, ...]
    """Begun in it."""
    walk_due: WalkDue | None
    """As at the time of the report; None: no standard says how to walk."""
    tests: tuple[TestTold, ...]
    """Made in it."""
    tests_due: tuple[TestsDue, ...]


class MonthFacts(Facts):
    """A month of all headings, or of some."""

    kind: Literal["month"] = "month"
    month: str = Field(pattern="^[0-9]{4}-(0[1-9]|1[0-2])$")
    every_heading: bool
    headings: tuple[HeadingMonth, ...]
    overdue: tuple["RehabLine", ...]
    months: tuple[MonthTold, ...]
    """All those headings together, the oldest first, the month itself the last."""
    work: WorkDone
    trends: tuple[TrendTold, ...]
    """Of all those headings together, and by group."""


class RehabLine(Own):
    """One line of the rehab list: a repair, or damage for which none is planned."""

    heading_id: str
    heading: str
    place: int = Field(ge=1)
    """In the list: 1 is done first."""
    from_m: Chainage
    to_m: Chainage
    state: RehabState | Literal["not planned", "patched"]
    damages: tuple[DamageTold, ...]
    """The most urgent first."""
    repair: RepairTold | None


class RehabFacts(Facts):
    """What is to be repaired, in the order in which it is to be done."""

    kind: Literal["rehab"] = "rehab"
    heading: str | None
    """Id; None for every heading."""
    heading_name: str | None
    lines: tuple[RehabLine, ...]
    verified: tuple[RehabLine, ...]
    """What was repaired and verified lately, the last first."""


AnyFacts: TypeAlias = HeadingFacts | MonthFacts | RehabFacts
"""The reports that stand on pages of their own; a round has its sheet."""


def facts_bytes(facts: Facts) -> bytes:
    """Write facts as canonical JSON (RFC 8785)."""
    return canonical_bytes(facts.model_dump(mode="json"))


def facts_sha256(facts: Facts) -> str:
    """Give the hash by which a printed report is known."""
    return hashlib.sha256(facts_bytes(facts)).hexdigest()
