"""Intersections as lines for reports."""

from collections.abc import Iterator
from datetime import datetime
from zoneinfo import ZoneInfo

from fieldapp.assess.entry.cables import finding_words, why_it_waits
from fieldapp.assess.intersections.span import span_m, why_no_outline
from fieldapp.store.office.ground_lines import IntersectionLine
from fieldapp.work.called import called
from fieldapp.work.gathering import HeadingRecord
from fieldapp.work.intersection.judged import cables_facts
from fieldapp.work.intersection.record import opened_at
from fieldapp.work.office_lines.utc import utc_text
from fieldapp.work.site import Sight


def intersection_lines(
    sight: Sight, at: datetime, record: HeadingRecord
) -> Iterator[IntersectionLine]:
    """Yield a line for each intersection of a heading, judged as at a time."""
    facts = cables_facts(sight, record.intersections, record.events, at)
    now = at.astimezone(ZoneInfo(sight.settings.zone))
    for known, fact in zip(record.intersections, facts, strict=True):
        worst = next(iter(fact.findings), None)
        opened = opened_at((it.event for it in record.events), known.id)
        for it in known.heads:
            yield IntersectionLine(
                heading_id=record.heading_id,
                as_at=utc_text(at),
                intersection_id=known.id,
                label=called(known.id),
                from_m=float(it.from_m),
                to_m=float(it.to_m),
                span_m=None if why_no_outline(it.corners) else round(span_m(it.corners), 3),
                support_class=it.support_class,
                cable=it.cable,
                cables=it.cables,
                step=it.step,
                done=it.count,
                done_at=utc_text(it.at),
                cables_wait=why_it_waits(fact, now) or None,
                bolts=len(it.bolts),
                opened_at=None if opened is None else utc_text(opened),
                verdict=None if worst is None else str(worst.verdict),
                because=None if worst is None else finding_words(worst),
            )
