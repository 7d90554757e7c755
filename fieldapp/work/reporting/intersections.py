"""What a report says of a heading's intersections."""

from collections.abc import Iterator
from decimal import Decimal
from zoneinfo import ZoneInfo

from fieldapp.assess.entry.cables import finding_words, why_it_waits
from fieldapp.assess.intersections.span import span_m, why_no_outline
from fieldapp.work.called import called
from fieldapp.work.gathering import HeadingRecord
from fieldapp.work.intersection.judged import cables_facts, judged_otherwise, standard_of
from fieldapp.work.intersection.record import StatedIntersection, opened_at
from fieldapp.work.known import Known, current
from fieldapp.work.people import name_of
from fieldapp.work.reporting.then import Reported
from fieldapp.work.reporting.told_of_intersections import IntersectionTold, StandsTold
from fieldapp.work.standard_in_force import NoStandard
from schemas.bodies.intersection import Corner, Intersection, PlanBolt, PlanCable
from schemas.findings import Verdict
from schemas.numbers import STEP_M, rounded

_INMOST_M = Decimal(99_999)


def intersections_told(on: Reported, record: HeadingRecord) -> Iterator[IntersectionTold]:
    """Tell of the intersections of a heading, outbye first."""
    known = current(on.sight, "intersection", Intersection, heading=record.heading_id)
    stated = {it.id: it for it in record.intersections}
    for it in sorted(known, key=lambda it: (it.body.from_m, it.id, it.entry.revision)):
        yield _told(on, record, it, stated[it.id])


def _told(
    on: Reported, record: HeadingRecord, it: Known[Intersection], stated: StatedIntersection
) -> IntersectionTold:
    sight, body = on.sight, it.body
    opened = opened_at((one.event for one in record.events), it.id)
    (fact,) = cables_facts(sight, [stated], record.events, on.at)
    worst = next(iter(fact.findings), None)
    is_wrong = worst is not None and worst.verdict is not Verdict.ACCEPT
    both = judged_otherwise(sight, stated, opened, on.at)
    span = None if why_no_outline(body.corners) else rounded(span_m(body.corners), STEP_M)
    return IntersectionTold(
        id=it.id,
        label=called(it.id),
        from_m=body.from_m,
        to_m=body.to_m,
        span_m=span,
        support_class=body.support_class,
        cable=body.cable,
        cables=body.cables,
        step=body.step,
        done=body.count,
        done_at=body.at,
        signed_by=name_of(sight, it.entry.author) if body.step == "plated" else "",
        cables_wait=why_it_waits(fact, on.at.astimezone(ZoneInfo(sight.settings.zone))),
        opened_at=opened,
        standard=_judged_by(on, (*stated.revisions, body)),
        verdict=None if worst is None else worst.verdict,
        because=finding_words(worst) if worst is not None and is_wrong else "",
        in_force_now="" if both is None else both[1].words,
        stands=tuple(_stands(body)),
    )


def _judged_by(on: Reported, revisions: tuple[Intersection, ...]) -> str:
    try:
        return standard_of(on.sight, revisions, on.at).body.name
    except NoStandard:
        return ""


def _stands(body: Intersection) -> Iterator[StandsTold]:
    for corner in body.corners:
        yield StandsTold(what="corner", method=body.corners_method, **_at(body, corner))
    for bolt in body.bolts:
        yield StandsTold(what="bolt", **_at(body, bolt), **_of_bolt(bolt))
    for cable in body.cables_at:
        yield StandsTold(what="cable", **_at(body, cable), **_of_cable(cable))


def _at(body: Intersection, it: Corner) -> dict[str, Decimal]:
    at_m = min(max(Decimal(0), body.from_m + it.x_m), _INMOST_M)
    return {"chainage_m": at_m, "across_m": it.y_m}


def _of_bolt(it: PlanBolt) -> dict[str, str | None]:
    return {"method": it.method, "plate": it.plate}


def _of_cable(it: PlanCable) -> dict[str, object]:
    return it.model_dump(include={"method", "length_m", "tension_kn", "batch"})
