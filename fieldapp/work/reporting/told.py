"""What reports tell of rounds, damage, repairs and events: frozen models of one thing each.

Lengths are in metres, places by chainage, times with their zone. Words that a person stated stay
as they were stated.
"""

from datetime import date, datetime
from decimal import Decimal
from typing import Literal

from fieldapp.assess.take_off import Kind
from schemas.bodies.damage import Cause, DamageExtent, DamageKind, DamageZone
from schemas.bodies.event import Happened, Stripped
from schemas.bodies.rehab import Outcome, RehabState
from schemas.bodies.sign_off import Decision
from schemas.bodies.walk import DamageSaid
from schemas.findings import Verdict
from schemas.numbers import Chainage, Offset
from schemas.part import Own
from schemas.rehab_rules import Holds
from sync.names import PhotoName


class FindingTold(Own):
    """One finding of a round that was not plainly accepted."""

    title: str
    verdict: Verdict
    measured: str
    limit: str
    places: str
    because: str
    fix: tuple[str, ...] = ()
    deviation: str | None = None


class BoltTold(Own):
    """One position of a round's own rows, or a bolt that stands for none."""

    row: int
    position: int | None
    """None: it stands for no demanded position."""
    chainage_m: Chainage
    s_m: Offset
    """Along the rock from the crown, looking toward the face, left negative."""
    state: Literal["present", "missing", "not looked at"]
    counts: bool
    """There, and nothing found against it."""
    plate_seated: bool | None
    placed: Literal["read", "as standard"]
    """Whether somebody measured its place, or it is where the standard puts it."""


class LapTold(Own):
    """One lap of mesh, where the standard's sheets put it."""

    number: int
    middle_m: Chainage
    width_m: Chainage
    left_s_m: Offset
    right_s_m: Offset
    openings: int | None
    held: bool | None
    """None: nobody has said."""
    read: bool
    """False: nobody has read its width; it is drawn as demanded."""


class SheetTold(Own):
    """One sheet of mesh as it was placed on the unrolled rock."""

    number: int
    from_m: Chainage
    to_m: Chainage
    left_s_m: Offset
    right_s_m: Offset
    read: bool
    """False: it lies as standard, and nobody has read an edge or a lap of it."""


class MaterialTold(Own):
    """One thing that a round takes by the standard, beside what went in."""

    thing: Kind
    of: str
    """Code of a bolt, size of a plate; empty where there is one of it only."""
    unit: Literal["each", "m²"]
    by_standard: Decimal
    used: Decimal | None
    """None: nobody counted it."""
    difference: Decimal | None
    """How much more was used; less where it is below nought."""


class WorkTold(Own):
    """How a round was done, by crew and method: no verdict, and never by name."""

    crew: str | None
    method: str | None
    crew_size: int | None
    started_at: datetime | None
    finished_at: datetime | None
    took_min: int | None
    """From start to finish; None where its times aren't known or contradict each other."""
    held_up_min: int | None
    held_up_by: str
    meshed_m2: Decimal | None
    meshed_per_hour_m2: Decimal | None
    cost: Decimal | None
    cost_per_metre: Decimal | None
    currency: str | None
    beyond_last_row: bool | None
    beyond_reason: str | None


class RoundTold(Own):
    """One round as its current revision has it, and what was decided about it."""

    id: str
    number: int
    over_old: bool = False
    """New support over old: counted by itself, and read to the old row inbye, to no face."""
    joint_m: Chainage
    last_row_m: Chainage
    fired_at: datetime | None
    recorded_at: datetime
    recorded_by: str
    decision: Decision | None
    """None: nobody has signed who may."""
    signed_by: str | None = None
    role: str | None = None
    signed_at: datetime | None = None
    signature_fits: bool = False
    first_decision: Decision | None = None
    """What was decided when it was first shown to somebody who signs."""
    first_signed_at: datetime | None = None
    last_row_to_face_m: Chainage | None = None
    """The greatest that was read at left, middle and right."""
    verdict: Verdict | None = None
    """The worst; None where no standard here has its class."""
    headline: str = ""
    standard: str = ""
    findings: tuple[FindingTold, ...] = ()
    assessment: str | None = None
    """SHA-256 of the canonical assessment; None where it was not judged."""
    in_dispute: bool = False
    bolts: tuple[BoltTold, ...] = ()
    laps: tuple[LapTold, ...] = ()
    """Where the standard's sheets put them; where sheets were placed, as those lap."""
    sheets: tuple[SheetTold, ...] = ()
    materials: tuple[MaterialTold, ...] = ()
    """The take-off by the standard that it was shown, against what was used."""
    work: WorkTold | None = None
    """None: nothing is stated of it."""

    @property
    def mark(self) -> int | str:
        """Its number; "R2" for the second round of new support over old."""
        return f"R{self.number}" if self.over_old else self.number


class JudgedOtherwise(Own):
    """A round of which the standard in force says something else than that of its day."""

    round: int
    then: str
    """"S-2 revision 5: accept"."""
    now: str
    breaches_now: tuple[str, ...]
    """What does not meet the one in force, the worst first."""


class EventTold(Own):
    """Something that happened to the ground."""

    what: Happened
    at: datetime
    chainage_m: Chainage
    stripped: Stripped | None = None
    """What was taken away, of a stripping."""
    radius_m: Chainage
    fired_m: Chainage | None
    excluded_until: datetime
    inspected_at: datetime | None
    stated_by: str
    note: str = ""


class PhotoTold(Own):
    """A photo, by the hash of its bytes."""

    sha256: str
    month: str
    ending: str
    taken_at: datetime | None
    """By the camera's clock; None: it told none."""
    kept_at: datetime

    @property
    def name(self) -> PhotoName:
        """By which its file is found."""
        return PhotoName(self.month, self.sha256, self.ending)


class DamageTold(Own):
    """One damage by everything that was seen of it."""

    id: str
    label: str
    """Short id that stands on its label."""
    kind: DamageKind
    zone: DamageZone
    from_m: Chainage
    to_m: Chainage
    s_m: Offset | None
    """Along the rock from the crown, looking toward the face, left negative."""
    first_seen_at: datetime
    last_seen_at: datetime
    observations: int
    extent: DamageExtent
    """As it was read last."""
    severity: str | None
    exposure: str | None
    cause: Cause | None
    priority: str | None
    """None: the engineer decides."""
    due_on: date | None
    """By the mine's own clock."""
    overdue_days: int | None
    """Whole days since; None where it is not overdue."""
    grown: bool
    holds: Holds
    outcome: Outcome | None
    """None: unrepaired."""
    because: tuple[str, ...]
    photos: tuple[PhotoTold, ...] = ()
    walked_at: datetime | None = None
    """When somebody walked past it last and was asked; None: nobody was."""
    walked_said: DamageSaid | None = None
    """What was said of it then: it stays open whatever that was."""


class RepairTold(Own):
    """One repair, from the plan to whoever verified it."""

    id: str
    label: str
    from_m: Chainage
    to_m: Chainage
    zones: tuple[DamageZone, ...]
    state: RehabState
    damages: tuple[str, ...]
    """Labels of what it repairs."""
    order_of_work: str
    crew: str | None
    barrier: str | None
    started_at: datetime | None
    finished_at: datetime | None
    outcome: Outcome | None
    bolts_added: int | None
    lap_openings: int | None
    materials: tuple[str, ...]
    verified_by: str | None = None
    role: str | None = None
    verified_at: datetime | None = None
    refused_because: str | None = None
    before: tuple[PhotoTold, ...] = ()
    after: tuple[PhotoTold, ...] = ()
