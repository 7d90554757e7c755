"""What is worked out of the entries for reports, and every class of line: see `line`."""

from dataclasses import dataclass

from fieldapp.store.office.ground_lines import DamageLine, IntersectionLine, RehabLine
from fieldapp.store.office.line import Line


@dataclass(frozen=True)
class HeadingLine(Line):
    """A heading."""

    table = "office_heading"

    heading_id: str
    name: str
    level: str
    support_class: str
    demo: bool


@dataclass(frozen=True)
class RoundLine(Line):
    """One current revision of a round, and what was decided about it."""

    table = "office_round"

    heading_id: str
    round_revision: str
    round_id: str
    number: int
    over_old: bool
    """New support over old: counted by themselves."""
    support_class: str
    joint_m: float
    last_row_m: float
    advance_m: float
    rows: int
    started_at: str
    fired_at: str | None
    made_at: str
    author: str
    tablet: str
    decision: str | None
    signed_by: str | None
    signed_at: str | None
    entry_line_m: float | None
    in_dispute: bool


@dataclass(frozen=True)
class JudgementLine(Line):
    """What one standard says of one revision of a round."""

    table = "office_judgement"

    round_revision: str
    standard_revision: str
    standard: str
    shown: bool
    """Whether it is the standard that the person was shown."""
    in_force: bool
    """Whether it was in force, as the office knows by now."""
    as_at: str
    method_version: int
    verdict: str
    held_at: str
    headline: str
    may_be_accepted: bool
    rows_complete_to_m: float | None
    assessment: str
    """SHA-256 of the canonical assessment, as a sign-off names it."""


@dataclass(frozen=True)
class FindingLine(Line):
    """One finding of one judgement."""

    table = "office_finding"

    round_revision: str
    standard_revision: str
    list_place: int
    """1 is the worst."""
    check_name: str
    title: str
    verdict: str
    holds: str
    measured: str | None
    measured_value: float | None
    uncertainty: float | None
    limit_text: str | None
    limit_value: float | None
    unit: str
    place: str | None
    chainage_m: float | None
    s_m: float | None
    bolt_row: int | None
    bolt_position: int | None
    zone: str | None
    places: int
    because: str
    how: str
    basis: str
    fix: str
    deviation: str | None


@dataclass(frozen=True)
class BoltLine(Line):
    """One position of a round's own rows, or a bolt that stands for none."""

    table = "office_bolt"

    round_revision: str
    bolt_row: int
    bolt_position: int | None
    chainage_m: float
    s_m: float
    zone: str
    looked_at: bool
    state: str
    faults: str
    counts: bool
    plate_seated: bool | None
    plated: bool
    anchored: bool
    method: str


@dataclass(frozen=True)
class LapLine(Line):
    """One lap of mesh: as it was read, or between two placed sheets."""

    table = "office_lap"

    round_revision: str
    lap: int | None
    """Its number from the joint; none of a lap along the drive."""
    sheets: str | None
    """Between which placed sheets; None: a lap that was read from wall to wall."""
    openings: int | None
    least_mm: float | None
    width_mm: float | None
    """The narrowest of these; between placed sheets without them, that between their edges."""
    demanded_openings: int | None
    demanded_mm: float | None
    method: str
    held: bool | None
    not_held_where: str | None


@dataclass(frozen=True)
class WorkLine(Line):
    """How one round was supported, and what went in against what it takes by the standard."""

    table = "office_work"

    round_revision: str
    crew: str | None
    method: str | None
    crew_size: int | None
    started_at: str | None
    finished_at: str | None
    minutes: int | None
    delay_minutes: int | None
    delays: str | None
    bolts_used: int | None
    bolts_by_standard: int
    plates_used: int | None
    mesh_pieces_used: int | None
    mesh_pieces_by_standard: int
    meshed_m2: float | None
    capsules_used: int | None
    capsules_by_standard: int
    cost: float | None
    cost_per_m: float | None
    currency: str | None
    beyond_last_row: bool | None
    beyond_reason: str | None


@dataclass(frozen=True)
class SignOffLine(Line):
    """One sign-off, whether it counts or not."""

    table = "office_sign_off"

    heading_id: str
    sign_off_id: str
    revision: str
    round_id: str
    round_revision: str
    standard_revision: str
    decision: str
    role: str
    author: str
    made_at: str
    judged_at: str
    entry_line_m: float
    says: str
    fix_list: str
    assessment: str
    tablet: str
    believed: bool
    why_not: str | None


@dataclass(frozen=True)
class EventLine(Line):
    """Something that happened to the ground."""

    table = "office_event"

    heading_id: str
    event_id: str
    what: str
    happened_at: str
    chainage_m: float
    to_m: float | None
    """The inbye end, of a stripping."""
    radius_m: float
    excluded_until: str
    inspected_at: str | None
    fired_m: float | None
    note: str
    author: str
    made_at: str
    tablet: str


@dataclass(frozen=True)
class EntryLine(Line):
    """Where people may go in a heading, and how much of it is signed."""

    table = "office_entry"

    heading_id: str
    as_at: str
    line_m: float
    outbye: str
    face_m: float
    beyond: str | None
    mark: str | None
    because: str
    until: str | None
    cut_off: bool
    metres_not_signed: float
    deviations: str
    doubts: str
    failed_tests: str
    signed_m: float
    fired_m: float


@dataclass(frozen=True)
class PersonLine(Line):
    """Somebody who is or was enrolled."""

    table = "office_person"

    person_id: str
    name: str
    roles: str
    enrolled_at: str
    ended_at: str | None
    keys: int


@dataclass(frozen=True)
class TabletLine(Line):
    """A machine that sealed entries, or is enrolled."""

    table = "office_tablet"

    tablet: str
    name: str | None
    standing: str
    valid_through: int | None
    follows: str | None
    segments: int
    last_segment: int
    missing_segments: int
    two_rows: bool


@dataclass(frozen=True)
class ConflictLine(Line):
    """One of several current revisions of one thing."""

    table = "office_conflict"

    thing_id: str
    kind: str
    heading_id: str | None
    revision: str
    author: str
    made_at: str
    tablet: str


LINES: tuple[type[Line], ...] = (
    HeadingLine,
    RoundLine,
    JudgementLine,
    FindingLine,
    BoltLine,
    LapLine,
    WorkLine,
    SignOffLine,
    EventLine,
    EntryLine,
    DamageLine,
    RehabLine,
    IntersectionLine,
    PersonLine,
    TabletLine,
    ConflictLine,
)
