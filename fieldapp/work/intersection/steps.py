"""Intersections: planned, then their cables drilled, grouted and plated over days.

Entry beneath is restricted from the first word until somebody who put in none of the cables has
signed that they are plated, and their grout had cured by then.
"""

from collections.abc import Sequence
from datetime import datetime
from typing import Final
from zoneinfo import ZoneInfo

from fieldapp.assess.entry.cables import why_it_waits
from fieldapp.work.authority import CABLE_CREWS, counting
from fieldapp.work.called import called, is_called
from fieldapp.work.headings import NoSuchHeading, heading
from fieldapp.work.intersection.judged import cables_facts
from fieldapp.work.intersection.record import StatedIntersection, stated_intersections
from fieldapp.work.intersection.troubles import (
    NoSuchIntersection,
    PutInByThem,
    StepRefused,
    WhichIntersection,
)
from fieldapp.work.known import Known, current, one, parents_over
from fieldapp.work.own_keys import key_with
from fieldapp.work.people import name_of, person, still_enrolled
from fieldapp.work.roles import SIGNERS, require
from fieldapp.work.site import Session, Sight, Site
from fieldapp.work.writing import state, written
from schemas.bodies.intersection import CableStep, Intersection
from schemas.signatures import sign

ORDER: tuple[CableStep, ...] = ("planned", "drilled", "grouted", "plated")
ANEW: Final[dict[str, object]] = {
    "role": None,
    "public_key": None,
    "signature": None,
    "refused_because": "",
    "corrected_because": None,
}
"""What a revision never takes over from the one before: each is said, and signed, for itself."""


def intersections(site: Sight, heading_id: str = "") -> tuple[Known[Intersection], ...]:
    """Give the current revisions of a heading's intersections, or of all, outbye first."""
    of = {"heading": heading_id} if heading_id else {}
    known = current(site, "intersection", Intersection, **of)
    return tuple(sorted(known, key=lambda it: (it.body.heading, it.body.from_m, it.id)))


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


def refuse(site: Site, name: str, session: Session, because: str) -> Known[Intersection]:
    """State why the cables don't count as they are: entry stays restricted, or is again.

    The next step that somebody states, or signs, ends it.

    Raises
    ------
    StepRefused
        It isn't said why.
    NoSuchIntersection, NotYours
        Nothing is known so; a crew, supervisor, technician or engineer states it.
    """
    session = still_enrolled(site, session)
    require(session, *CABLE_CREWS, act="say that cables don't count")
    if not because.strip():
        raise StepRefused("refused", "nobody knows what to put right")
    heads = heads_of(site, name)
    said = ANEW | {"refused_because": because.strip()}
    body = before_plates(site, least_far(heads)).model_copy(update=said)
    author, parents = session.person_id, parents_over(site, heads)
    entry = state(site, "intersection", body, author=author, thing_id=heads[0].id, parents=parents)
    return Known(entry, body)


def waits_for(site: Site, known: Known[Intersection]) -> str:
    """Say what the cables of an intersection wait for; nothing where they hold entry no longer."""
    (fact,) = cables_facts(site, [stated_of(site, known)], (), site.now())
    return why_it_waits(fact, site.now().astimezone(ZoneInfo(site.settings.zone)))


def heads_of(site: Sight, name: str) -> Sequence[Known[Intersection]]:
    """Give what stands of an intersection by its short id or whole id, or its heading's name.

    Raises
    ------
    NoSuchIntersection
        Nothing is known so.
    WhichIntersection
        It names a heading that has several, or none.
    """
    found = {it.id: it for it in called_so(site, name)}
    if len(found) != 1:
        at = ", ".join(f"{called(it.id)} at {it.body.from_m} m" for it in found.values())
        raise WhichIntersection(name, at or "no intersection")
    return one(site, "intersection", Intersection, next(iter(found)))


def called_so(site: Sight, name: str) -> tuple[Known[Intersection], ...]:
    """Give the intersection of a short id or whole id, or all of the heading of that name.

    Raises
    ------
    NoSuchIntersection
        Nothing is known so.
    """
    every = intersections(site)
    found = tuple(it for it in every if is_called(it.id, name))
    if found:
        return found
    try:
        place = heading(site, name)
    except NoSuchHeading:
        raise NoSuchIntersection(name) from None
    return tuple(it for it in every if it.body.heading == place.id)


def least_far(heads: Sequence[Known[Intersection]]) -> Known[Intersection]:
    """Give that of several accounts of one intersection by which its cables are least far."""
    return min(heads, key=lambda it: ORDER.index(it.body.step))


def stated_of(site: Sight, known: Known[Intersection]) -> StatedIntersection:
    """Give everything that counts of what was stated of an intersection."""
    every = stated_intersections(site, known.body.heading)
    return next(it for it in every if it.id == known.id)


def before_plates(site: Sight, head: Known[Intersection]) -> Intersection:
    """Give what stands, as it was before somebody signed that it is plated."""
    if head.body.step != "plated":
        return head.body
    before = [it for it in stated_of(site, head).revisions if it.step != "plated"]
    said = max(before, key=lambda it: ORDER.index(it.step), default=None)
    if said is None:
        return head.body.model_copy(update={"step": "planned", "count": 0})
    step = {"step": said.step, "count": said.count, "at": said.at}
    return head.body.model_copy(update=step)


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
    return before.model_copy(update=said | ANEW)


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
