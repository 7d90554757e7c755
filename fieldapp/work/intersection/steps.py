"""Intersections: planned, then their cables drilled, grouted and plated over days.

Entry beneath is restricted from the first word until somebody who put in none of the cables has
signed that they are plated, and their grout had cured by then.
"""

from collections.abc import Sequence
from datetime import datetime
from zoneinfo import ZoneInfo

from fieldapp.assess.entry.cables import why_it_waits
from fieldapp.assess.intersections.span import why_no_outline
from fieldapp.work.authority import CABLE_CREWS, counting
from fieldapp.work.called import is_called
from fieldapp.work.headings import heading
from fieldapp.work.intersection.record import cables_facts, stated_intersections
from fieldapp.work.intersection.troubles import (
    NoSuchCable,
    NoSuchIntersection,
    OpeningRefused,
    PutInByThem,
    StepRefused,
)
from fieldapp.work.known import Known, current, one, parents_over
from fieldapp.work.own_keys import key_with
from fieldapp.work.people import name_of, person, still_enrolled
from fieldapp.work.roles import SIGNERS, require
from fieldapp.work.site import Session, Sight, Site
from fieldapp.work.standard_in_force import in_force
from fieldapp.work.writing import state, written
from schemas.bodies.intersection import CableStep, Intersection
from schemas.signatures import sign

ORDER: tuple[CableStep, ...] = ("planned", "drilled", "grouted", "plated")


def intersections(site: Sight) -> tuple[Known[Intersection], ...]:
    """Give the current revisions of every intersection, heading by heading, outbye first."""
    known = current(site, "intersection", Intersection)
    return tuple(sorted(known, key=lambda it: (it.body.heading, it.body.from_m, it.id)))


def add_intersection(
    site: Site, body: Intersection, session: Session | None
) -> Known[Intersection]:
    """State an intersection and the cables that it demands. Anyone may: entry gets stricter.

    Raises
    ------
    OpeningRefused
        It has no length, or its corners are no outline.
    NoSuchCable
        The standard in force has no such bolt in no such class.
    NoStandard, NoSuchHeading
        None is in force; nothing is known of its heading.
    """
    place = heading(site, body.heading)
    why = why_no_outline(body.corners)
    if body.from_m >= body.to_m:
        why = "it ends before it begins"
    if why:
        raise OpeningRefused(place.body.name, why)
    demanded = in_force(site, site.now()).body.support_class(body.support_class)
    if demanded is None or body.cable not in {it.code for it in demanded.bolts}:
        raise NoSuchCable(body.cable, body.support_class)
    author = session.person_id if session else None
    return Known(state(site, "intersection", body, author=author), body)


def put_in(
    site: Site, name: str, session: Session, step: CableStep, count: int, at: datetime
) -> Known[Intersection]:
    """State how many cables are drilled or grouted by now, and when the last was.

    Raises
    ------
    StepRefused
        More than are demanded or drilled, in the future, or before the step before.
    NoSuchIntersection, NotYours
        Nothing is known so; a crew, supervisor, technician or engineer states it.
    """
    session = still_enrolled(site, session)
    require(session, *CABLE_CREWS, act=f"say that cables are {step}")
    heads = heads_of(site, name)
    body = _next(site, heads, step, count, at)
    author, parents = session.person_id, parents_over(site, heads)
    entry = state(site, "intersection", body, author=author, thing_id=heads[0].id, parents=parents)
    return Known(entry, body)


def plate(
    site: Site, name: str, session: Session, code: str, count: int, at: datetime
) -> Known[Intersection]:
    """Sign that cables are plated, as a supervisor or engineer who put in none of them.

    Raises
    ------
    PutInByThem
        The person drilled or grouted, or was named among those who did.
    StepRefused, NoSuchIntersection, NotYours, NotAllowed
        As for `put_in`; the code is wrong.
    """
    session = still_enrolled(site, session)
    role = require(session, *reversed(SIGNERS), act="say that cables are plated")
    heads = heads_of(site, name)
    if session.person_id in counting(site).cable_installers(heads[0].id):
        raise PutInByThem(name_of(site, session.person_id))
    body = _next(site, heads, "plated", count, at)
    key = key_with(site, person(site, session.person_id), code)
    signed = body.model_copy(update={"role": role, "public_key": key.public_key})
    author, parents = session.person_id, parents_over(site, heads)
    unsigned = written(
        site, "intersection", signed, author=author, thing_id=heads[0].id, parents=parents
    )
    entry = sign(unsigned, key)
    site.store.ledger.add([entry])
    return Known(entry, Intersection.model_validate(dict(entry.body)))


def waits_for(site: Site, known: Known[Intersection]) -> str:
    """Say what the cables of an intersection wait for; nothing where they hold entry no longer."""
    every = stated_intersections(site, known.body.heading)
    (fact,) = cables_facts(site, [it for it in every if it.id == known.id], (), site.now())
    return why_it_waits(fact, site.now().astimezone(ZoneInfo(site.settings.zone)))


def heads_of(site: Sight, name: str) -> Sequence[Known[Intersection]]:
    """Give what stands of an intersection by its short id or whole id.

    Raises
    ------
    NoSuchIntersection
        Nothing is known so.
    """
    found = {it.id for it in intersections(site) if is_called(it.id, name)}
    if len(found) != 1:
        raise NoSuchIntersection(name)
    return one(site, "intersection", Intersection, found.pop())


def least_far(heads: Sequence[Known[Intersection]]) -> Known[Intersection]:
    """Give that of several accounts of one intersection by which its cables are least far."""
    return min(heads, key=lambda it: ORDER.index(it.body.step))


def _next(
    site: Site, heads: Sequence[Known[Intersection]], step: CableStep, count: int, at: datetime
) -> Intersection:
    """Give the revision that follows those that stand, from the one that is least far."""
    before = least_far(heads).body
    why = _why_refused(before, step, count, at)
    if at > site.now():
        why = "that time has not come yet"
    if why:
        raise StepRefused(step, why)
    said = {"step": step, "count": count, "at": at}
    unsigned = {"role": None, "public_key": None, "signature": None}
    return before.model_copy(update=said | unsigned)


def _why_refused(before: Intersection, step: CableStep, count: int, at: datetime) -> str:
    ahead = ORDER.index(step) - ORDER.index(before.step)
    if not 0 < count <= before.cables:
        return f"{count} of {before.cables} cables were named"
    if ahead > 1:
        return f"they are only {before.step} yet"
    if ahead == 1 and before.step != "planned":
        if count > before.count:
            return f"only {before.count} were {before.step}"
        if at < before.at:
            return f"that was before they were {before.step}"
    return ""
