"""What a walk comes to when it is ended: what was answered whole, and what was only begun.

Nothing that was said is lost. A section that was only begun is kept with what it lacks, and
stays due.
"""

from collections.abc import Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass
from typing import Final

from fieldapp.work.known import Known
from fieldapp.work.site import Session, Site
from fieldapp.work.standard_in_force import NoStandard
from fieldapp.work.walk.draft import WalkWork
from fieldapp.work.walk.now import asked_of, known_of
from fieldapp.work.walk.plan import WalkPlan, plan_of_month
from fieldapp.work.walk.section_due import NoWalkRule
from fieldapp.work.walk.section_history import ground_today
from fieldapp.work.walk.section_work import Place, SectionWork
from fieldapp.work.walk.things import graves_left
from fieldapp.work.walk.walks import GraveNotRecorded, WalkRefused, record_walk, walk_entry
from schemas.bodies.damage import DamageZone
from schemas.bodies.walk import PartSeen, SectionSeen, Walk
from schemas.numbers import text

LONGEST_NOTE: Final = 400


@dataclass(frozen=True)
class Begun:
    """A section that was begun and not answered whole."""

    place: Place
    unanswered: tuple[str, ...]
    """What was asked of it last, and what was not told to the end."""


def begun_only(site: Site, work: WalkWork, plan: WalkPlan) -> tuple[Begun, ...]:
    """Give the sections of which something was said and not all, from the origin on."""
    return tuple(sorted(_begun_only(site, work, plan), key=lambda it: it.place))


def walked(site: Site, work: WalkWork, plan: WalkPlan) -> Walk | None:
    """Give the walk as it would be kept now; None while no section has an answer."""
    lacking = {it.place: it.unanswered for it in begun_only(site, work, plan)}
    sections = [_seen(it, lacking.get(it.place, ())) for it in work.sections.values()]
    kept = sorted((it for it in sections if it is not None), key=lambda it: it.from_m)
    if not kept:
        return None
    return Walk(
        heading=work.about.heading_id,
        month=work.about.month,
        began_at=work.about.began_at,
        ended_at=site.now(),
        sections=tuple(kept),
        looked_at=work.looked_at,
        note="; ".join(_noted_alone(work))[:LONGEST_NOTE],
    )


def end_walk(site: Site, work: WalkWork, plan: WalkPlan, session: Session | None) -> Known[Walk]:
    """State it: the entry is there and the draft is closed, in one step.

    Raises
    ------
    WalkRefused, GraveNotRecorded, NotYours
        As for `record_walk`; the draft stays as it was.
    """
    walk = walked(site, work, plan)
    assert walk is not None  # noqa: S101 - the key is there once a section has an answer
    grave = next(_grave_left(site, work), None)
    if grave is not None:
        raise GraveNotRecorded(grave)
    entry, body = walk_entry(site, walk, session, thing_id=work.walk_id)
    site.store.drafts.finish(work.walk_id, [entry])
    return Known(entry, body)


def _grave_left(site: Site, work: WalkWork) -> Iterator[str]:
    here = known_of(site, work).of_the_heading
    for section in work.sections.values():
        for it in graves_left(section, here):
            where = f"the section {text(section.from_m)} to {text(section.to_m)} m"
            yield f"{where}, {it.part.zone} holds entry ({it.holds})"


def record_told(site: Site, walk: Walk, session: Session | None) -> Known[Walk]:
    """Keep a walk that was written down elsewhere, where each section is told whole.

    Raises
    ------
    WalkRefused, GraveNotRecorded, NotYours
        As for `record_walk`; also where a section lacks what was drawn, or names a part and says
        nothing of it, without saying that it was left unanswered.
    """
    reason = next(_told_by_half(site, walk), None)
    if reason is not None:
        raise WalkRefused(reason)
    return record_walk(site, walk, session)


def _told_by_half(site: Site, walk: Walk) -> Iterator[str]:
    drawn = _drawn(site, walk)
    for nth, section in enumerate(walk.sections):
        if section.answer == "not reached" or section.unanswered:
            continue
        path = f"$.sections[{nth}]"
        ground = ground_today(site, walk, section)
        asked = drawn.get((ground.from_m, ground.to_m), ())
        missing = [it for it in asked if it not in section.in_full]
        if missing:
            yield (
                f"{path}.in_full lacks {', '.join(missing)}, drawn for {walk.month}; what was "
                "left out is named under unanswered, and the section stays due"
            )
        for of, part in enumerate(section.parts):
            if _says_nothing(part):
                yield (
                    f"{path}.parts[{of}] names {part.part}, {part.zone}, with no severity, "
                    "corrosion_grade, count or bag_depth_mm"
                )


def _drawn(site: Site, walk: Walk) -> Mapping[Place, tuple[DamageZone, ...]]:
    with suppress(NoStandard, NoWalkRule):
        plan = plan_of_month(site, walk.heading, walk.month, draw=False)
        return {(it.section.from_m, it.section.to_m): it.in_full for it in plan.sections}
    return {}


def _says_nothing(part: PartSeen) -> bool:
    told = (part.severity, part.corrosion_grade, part.count, part.bag_depth_mm)
    return all(it is None for it in told)


def _begun_only(site: Site, work: WalkWork, plan: WalkPlan) -> Iterator[Begun]:
    for place, asked in asked_of(site, work, plan).items():
        section = work.section(place)
        open_question = (asked.ask,) if asked is not None else ()
        lacking = (*open_question, *section.half_told)
        if section.at is not None and lacking:
            yield Begun(place, lacking)


def _noted_alone(work: WalkWork) -> Iterator[str]:
    """Yield what was noted of sections that have no answer, with their place."""
    for it in work.sections.values():
        if it.seen is None and it.said.get("note"):
            yield f"{text(it.from_m)} to {text(it.to_m)} m: {it.said['note']}"


def _seen(section: SectionWork, lacking: tuple[str, ...]) -> SectionSeen | None:
    seen = section.seen
    return seen.model_copy(update={"unanswered": lacking}) if seen is not None else None
