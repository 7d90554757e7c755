"""Condition walks: keeping what one outing saw of a heading, and what is kept of others."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from zoneinfo import ZoneInfo

from fieldapp.work.authority import INSPECTORS
from fieldapp.work.heading_record import heading_record
from fieldapp.work.headings import heading
from fieldapp.work.known import Known, current
from fieldapp.work.people import still_enrolled
from fieldapp.work.roles import NotYours, require
from fieldapp.work.site import Session, Sight, Site
from fieldapp.work.standard_in_force import revision_in_force
from fieldapp.work.walk.open_damage import not_told, open_damages
from fieldapp.work.walk.refusals import grave_without_damage, refusal
from fieldapp.work.writing import written
from schemas.bodies.walk import Walk
from schemas.entry import Entry
from schemas.trouble import BadInput, NotAllowed

ACT = "walk a heading"


@dataclass(eq=False)
class WalkRefused(BadInput):
    """A walk says what can't be."""

    reason: str

    happened = "The walk was not kept: {reason}."
    kept = "What was entered stands as it was."
    do_next = "Put that right, then end the walk again."


@dataclass(eq=False)
class GraveNotRecorded(NotAllowed):
    """Something holds entry or has rusted too far by the standard, and no damage is recorded."""

    where: str

    happened = "The walk was not kept: {where}, and no damage is recorded there."
    kept = "What was entered stands as it was. State no entry at once where people are beneath."
    do_next = "Record the damage there, then end the walk again."


@dataclass(eq=False)
class OpenDamageNotTold(NotAllowed):
    """A walk looked where damage is open, and does not say how that stands."""

    where: str

    happened = "The walk was not kept: it does not say what became of open damage, {where}."
    kept = "What was entered stands as it was, and the damage stays open."
    do_next = "Say of it: as it was, worse, repaired or not seen. Then end the walk again."


@dataclass(frozen=True)
class SameDay:
    """Somebody else who walked some of the same ground on the same day."""

    author: str
    sections: int
    """How many of the sections both looked at."""


def may_walk(site: Site, session: Session | None) -> Session:
    """Give who walks, as they are enrolled now.

    Raises
    ------
    NotYours
        A technician, engineer or supervisor walks.
    """
    if session is None:
        raise NotYours("Whoever is not signed in", ACT, " or ".join(INSPECTORS))
    session = still_enrolled(site, session)
    require(session, *INSPECTORS, act=ACT)
    return session


def record_walk(site: Site, walk: Walk, session: Session | None) -> Known[Walk]:
    """Keep what one outing saw.

    Raises
    ------
    NoSuchHeading
        There is no such heading.
    NotYours
        A technician, engineer or supervisor walks.
    WalkRefused
        A section lies beyond the face or twice in it, a date is before the support was there or
        in the future, a reading is larger than the original or out of reason and not read twice,
        or a code is not the standard's.
    GraveNotRecorded
        Something holds entry by the standard, or a reading surely leaves less than must be left,
        and no damage is recorded for it.
    OpenDamageNotTold
        Damage that was known is open in one of its sections, and nothing is said of it.
    """
    entry, body = walk_entry(site, walk, session)
    site.store.ledger.add([entry])
    return Known(entry, body)


def walk_entry(
    site: Site, walk: Walk, session: Session | None, *, thing_id: str | None = None
) -> tuple[Entry, Walk]:
    """Write a walk without keeping it yet, refused like `record_walk` refuses it."""
    session = may_walk(site, session)
    place = heading(site, walk.heading)
    said = {"heading": place.id, "standard": walk.standard or revision_in_force(site)}
    body = walk.model_copy(update=said)
    reason = refusal(site, body)
    if reason is not None:
        raise WalkRefused(reason)
    where = grave_without_damage(site, body)
    if where is not None:
        raise GraveNotRecorded(where)
    untold = not_told(site, body, open_damages(heading_record(site, place.id), body.began_at))
    if untold is not None:
        raise OpenDamageNotTold(untold)
    return written(site, "walk", body, author=session.person_id, thing_id=thing_id), body


def walks(site: Sight, heading_id: str) -> tuple[Known[Walk], ...]:
    """Give every walk of a heading, the one that began first at the beginning."""
    known = current(site, "walk", Walk, heading=heading_id)
    return tuple(sorted(known, key=lambda it: (it.body.began_at, it.id)))


def on_the_same_day(site: Site, walk: Walk, by: str | None) -> tuple[SameDay, ...]:
    """Give who else walked some of the same sections on the same day: both are kept."""
    return tuple(_same_day(site, walk, by, walks(site, walk.heading)))


def _same_day(
    site: Site, walk: Walk, by: str | None, others: Sequence[Known[Walk]]
) -> Iterator[SameDay]:
    zone = ZoneInfo(site.settings.zone)

    def day(at: datetime) -> str:
        return at.astimezone(zone).date().isoformat()

    for other in others:
        both = [
            mine
            for mine in walk.sections
            if any(
                day(it.at) == day(mine.at) and it.from_m < mine.to_m and it.to_m > mine.from_m
                for it in other.body.sections
            )
        ]
        if both and other.entry.author != by:
            yield SameDay(other.entry.author, len(both))
