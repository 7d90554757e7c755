"""What is seen of an intersection beside its steps: bolts, cables, and that it was opened."""

from collections.abc import Sequence
from datetime import datetime
from decimal import Decimal
from zoneinfo import ZoneInfo

from fieldapp.assess.intersections import positions_m
from fieldapp.work.authority import CABLE_CREWS
from fieldapp.work.events import drawn_up, events
from fieldapp.work.intersection.judged import (
    ByRevision,
    findings_of,
    judged_otherwise,
    standard_of,
)
from fieldapp.work.intersection.record import opened_at
from fieldapp.work.intersection.steps import ANEW, before_plates, heads_of, least_far, stated_of
from fieldapp.work.known import Known, parents_over
from fieldapp.work.people import still_enrolled
from fieldapp.work.roles import require
from fieldapp.work.site import Session, Sight, Site
from fieldapp.work.writing import state
from schemas.bodies.event import Event
from schemas.bodies.intersection import Intersection, PlanBolt, PlanCable
from schemas.findings import Finding
from schemas.numbers import STEP_M, rounded


def record_support(
    site: Site,
    name: str,
    session: Session,
    *,
    bolts: Sequence[PlanBolt] | None = None,
    cables: Sequence[PlanCable] | None = None,
    crown_m: Decimal | None = None,
) -> Known[Intersection]:
    """State which bolts and cables were seen, and how high its crown is; None: as it was.

    Cables that were signed as plated before are grouted again: somebody signs for what is there.

    Raises
    ------
    NoSuchIntersection, NotYours
        Nothing is known so; a crew, supervisor, technician or engineer states it.
    """
    session = still_enrolled(site, session)
    require(session, *CABLE_CREWS, act="say which bolts and cables were seen")
    heads = heads_of(site, name)
    seen = {
        **({} if bolts is None else {"bolts": tuple(bolts)}),
        **({} if cables is None else {"cables_at": tuple(cables)}),
        **({} if crown_m is None else {"crown_m": crown_m}),
    }
    body = before_plates(site, least_far(heads)).model_copy(update=seen | ANEW)
    author, parents = session.person_id, parents_over(site, heads)
    entry = state(site, "intersection", body, author=author, thing_id=heads[0].id, parents=parents)
    return Known(entry, body)


def open_up(site: Site, name: str, session: Session | None) -> Known[Event]:
    """State that the breakaway was taken, now. Anyone may: it only makes entry stricter.

    It is a blast in the heading: entry near it is withdrawn until the time is over and somebody
    has inspected.

    Raises
    ------
    NoSuchIntersection
        Nothing is known so.
    """
    head = heads_of(site, name)[0]
    middle_m = rounded((head.body.from_m + head.body.to_m) / 2, STEP_M)
    blast = drawn_up(site, head.body.heading, "nearby blast", middle_m)
    body = blast.model_copy(update={"opens": head.id})
    return Known(state(site, "event", body, author=session.person_id if session else None), body)


def findings(site: Site, known: Known[Intersection]) -> tuple[Finding, ...]:
    """Say what the standard of its day says of an intersection as it stands."""
    return findings_of(site, stated_of(site, known), breakaway_at(site, known), site.now())


def today(site: Site, known: Known[Intersection]) -> tuple[ByRevision, ByRevision] | None:
    """Say what the standard of its day and the one in force say, where they differ."""
    opened = breakaway_at(site, known)
    return judged_otherwise(site, stated_of(site, known), opened, site.now())


def breakaway_at(site: Sight, known: Known[Intersection]) -> datetime | None:
    """Give when its breakaway was taken, by the clock on the mine's wall; None: nobody said it."""
    opened = opened_at((it.body for it in events(site, known.body.heading)), known.id)
    return None if opened is None else opened.astimezone(ZoneInfo(site.settings.zone))


def as_demanded(site: Site, known: Known[Intersection]) -> tuple[PlanBolt, ...]:
    """Give a bolt in each position that its class demands, assumed, its plate not looked at.

    Nothing where the class states no pattern of intersections.
    """
    shown = standard_of(site, (*stated_of(site, known).revisions, known.body), site.now())
    demanded = shown.body.support_class(known.body.support_class)
    rule = None if demanded is None else demanded.intersection
    if rule is None or rule.pattern is None:
        return ()
    places = positions_m(known.body.corners, rule.pattern)
    return tuple(PlanBolt(x_m=_metres(x), y_m=_metres(y)) for x, y in places)


def _metres(value: float) -> Decimal:
    return rounded(value, STEP_M)
