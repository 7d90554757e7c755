"""Damage and its repairs as lines for reports."""

from collections.abc import Iterator, Mapping
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from fieldapp.assess.damage import extent_of, in_order
from fieldapp.store.office.ground_lines import DamageLine, RehabLine
from fieldapp.work.called import called
from fieldapp.work.damage_record import judge, left
from fieldapp.work.gathering import HeadingRecord
from fieldapp.work.known import Known
from fieldapp.work.office_lines.utc import utc_text
from fieldapp.work.site import Sight
from schemas.bodies.rehab import Rehab

_DAY = timedelta(days=1)


def damage_lines(sight: Sight, at: datetime, record: HeadingRecord) -> Iterator[DamageLine]:
    """Yield a line for each damage of a heading, ranked as at a time."""
    by = judge(sight, record.place.support_class, at)
    now = at.astimezone(ZoneInfo(sight.settings.zone))
    for damage in record.damages:
        remains = left(damage, record.rehabs)
        ranked = by.ranked_now(damage, remains, now)
        ordered = in_order(damage.seen)
        newest = ordered[-1].damage
        from_m, to_m = extent_of(damage.seen)
        yield DamageLine(
            heading_id=record.heading_id,
            as_at=utc_text(at),
            damage_id=damage.id,
            label=called(damage.id),
            kind=newest.kind,
            chainage_m=float(from_m),
            to_m=float(to_m) if to_m != from_m else None,
            s_m=float(newest.s_m) if newest.s_m is not None else None,
            zone=newest.zone,
            first_seen_at=utc_text(ordered[0].damage.seen_at),
            last_seen_at=utc_text(newest.seen_at),
            observations=len(ordered),
            severity=newest.severity,
            exposure=newest.exposure,
            priority=ranked.priority,
            due_at=utc_text(ranked.due_at) if ranked.due_at else None,
            overdue_days=ranked.overdue / _DAY if ranked.overdue is not None else None,
            grown=ranked.grown,
            holds=ranked.holds,
            standing=remains.outcome or "unrepaired",
            because="; ".join(ranked.because),
        )


def rehab_line(it: Known[Rehab], tablets: Mapping[str, str]) -> RehabLine:
    """Give the line of one current revision of a repair."""
    body, entry = it.body, it.entry
    part = (body.done_from_m, body.done_to_m)
    done_from_m, done_to_m = (float(end_m) if end_m is not None else None for end_m in part)
    return RehabLine(
        heading_id=body.heading,
        rehab_id=it.id,
        revision=entry.revision,
        from_m=float(body.from_m),
        to_m=float(body.to_m),
        state=body.state,
        damages=len(body.damages),
        parent=body.parent,
        order_of_work=body.order_of_work,
        crew=body.crew,
        started_at=utc_text(body.started_at) if body.started_at else None,
        finished_at=utc_text(body.finished_at) if body.finished_at else None,
        outcome=body.outcome,
        done_from_m=done_from_m,
        done_to_m=done_to_m,
        bolts_added=body.bolts_added,
        lap_openings=body.lap_openings,
        materials="; ".join(body.materials),
        refused_because=body.refused_because if body.state in ("refused", "reopened") else None,
        author=entry.author,
        made_at=utc_text(entry.made_at),
        tablet=tablets[entry.revision],
    )
