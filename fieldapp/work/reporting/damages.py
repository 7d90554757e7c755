"""What a report says of damage and its repairs, photos and all."""

from collections.abc import Iterable, Iterator
from datetime import timedelta
from zoneinfo import ZoneInfo

from fieldapp.assess.damage import in_order
from fieldapp.work.called import called
from fieldapp.work.damage.stating import DamageKnown
from fieldapp.work.known import Known
from fieldapp.work.people import name_of
from fieldapp.work.photo.photographs import photos_of
from fieldapp.work.rehab.before_after import sides_told
from fieldapp.work.rehab.rehab_list import worked_on
from fieldapp.work.reporting.then import Reported
from fieldapp.work.reporting.told import (
    DamageTold,
    PhotoTold,
    RepairTold,
)
from schemas.bodies.photo import ENDINGS, Photo
from schemas.bodies.rehab import Rehab

_DAY = timedelta(days=1)


def damage_told(on: Reported, known: DamageKnown) -> DamageTold:
    """Tell of one damage; what is restored is due no more, whenever it was."""
    seen = [it.damage for it in in_order(known.damage.seen)]
    newest, ranked = known.newest, known.ranked
    zone, is_left = ZoneInfo(on.sight.settings.zone), known.outcome != "restored"
    photos = (one for it in known.damage.seen for one in photos_of(on.sight, it.id))
    walked = next(iter(known.walked), None)
    return DamageTold(
        id=known.id,
        label=called(known.id),
        kind=newest.kind,
        zone=newest.zone,
        from_m=known.from_m,
        to_m=known.to_m,
        s_m=newest.s_m,
        first_seen_at=seen[0].seen_at,
        last_seen_at=newest.seen_at,
        observations=len(seen),
        extent=newest.extent,
        severity=newest.severity,
        exposure=newest.exposure,
        cause=newest.cause,
        priority=ranked.priority,
        due_on=ranked.due_at.astimezone(zone).date() if ranked.due_at and is_left else None,
        overdue_days=ranked.overdue // _DAY if ranked.overdue and is_left else None,
        grown=ranked.grown,
        holds=ranked.holds,
        outcome=known.outcome,
        because=ranked.because if is_left or not ranked.overdue else ranked.because[:-1],
        photos=tuple(photos_told(photos)),
        walked_at=walked.at if walked else None,
        walked_said=walked.said if walked else None,
    )


def repair_told(on: Reported, known: Known[Rehab]) -> RepairTold:
    """Tell of one repair; whoever verified it is named where somebody has who may."""
    body, is_verified = known.body, known.body.state == "verified"
    from_m, to_m = worked_on(body)
    sides = sides_told(on.sight, known.id, body)
    barrier = body.barricade
    return RepairTold(
        id=known.id,
        label=called(known.id),
        from_m=from_m,
        to_m=to_m,
        zones=body.zones,
        state=body.state,
        damages=tuple(map(called, body.damages)),
        order_of_work=body.order_of_work,
        crew=body.crew,
        barrier=f"{barrier.where}, by {barrier.who}" if barrier else None,
        started_at=body.started_at,
        finished_at=body.finished_at,
        outcome=body.outcome,
        bolts_added=body.bolts_added,
        lap_openings=body.lap_openings,
        materials=body.materials,
        verified_by=name_of(on.sight, known.entry.author) if is_verified else None,
        role=body.role if is_verified else None,
        verified_at=known.entry.made_at if is_verified else None,
        refused_because=body.refused_because if body.state in ("refused", "reopened") else None,
        before=tuple(photos_told(sides.before)),
        after=tuple(photos_told(sides.after)),
    )


def photos_told(known: Iterable[Known[Photo]]) -> Iterator[PhotoTold]:
    """Tell of photos, each by the hash of its bytes."""
    for it in known:
        body = it.body
        yield PhotoTold(
            sha256=body.sha256,
            month=body.month,
            ending=ENDINGS[body.media_type],
            taken_at=body.taken_at,
            kept_at=it.entry.made_at,
        )
