"""Lines of what is looked after in a heading: damage, its repairs, intersections."""

from dataclasses import dataclass

from fieldapp.store.office.line import Line


@dataclass(frozen=True)
class DamageLine(Line):
    """One damage by everything that was seen of it, ranked as at a time."""

    table = "office_damage"

    heading_id: str
    as_at: str
    damage_id: str
    label: str
    """Short id that stands on its label."""
    kind: str
    chainage_m: float
    to_m: float | None
    s_m: float | None
    zone: str
    first_seen_at: str
    last_seen_at: str
    observations: int
    severity: str | None
    exposure: str | None
    priority: str | None
    due_at: str | None
    overdue_days: float | None
    grown: bool
    holds: str
    standing: str
    because: str


@dataclass(frozen=True)
class RehabLine(Line):
    """One current revision of a repair."""

    table = "office_rehab"

    heading_id: str
    rehab_id: str
    revision: str
    from_m: float
    to_m: float
    state: str
    damages: int
    parent: str | None
    order_of_work: str
    crew: str | None
    started_at: str | None
    finished_at: str | None
    outcome: str | None
    done_from_m: float | None
    done_to_m: float | None
    bolts_added: int | None
    lap_openings: int | None
    materials: str
    refused_because: str | None
    author: str
    made_at: str
    tablet: str


@dataclass(frozen=True)
class IntersectionLine(Line):
    """An intersection as at a time; two where two people revised it."""

    table = "office_intersection"

    heading_id: str
    as_at: str
    intersection_id: str
    label: str
    from_m: float
    to_m: float
    span_m: float | None
    support_class: str
    cable: str
    cables: int
    step: str
    done: int
    """For how many cables the step was done."""
    done_at: str
    cables_wait: str | None
    bolts: int
    opened_at: str | None
    verdict: str | None
    """The worst of what the standard of its day says; None where it says nothing."""
    because: str | None
