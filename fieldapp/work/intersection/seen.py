"""What is seen of an intersection beside its steps: bolts, cables, and that it was opened."""

from collections.abc import Sequence
from datetime import datetime
from decimal import Decimal
from zoneinfo import ZoneInfo

from fieldapp.assess.intersections import positions_m
from fieldapp.work.authority import CABLE_CREWS
from fieldapp.work.events import drawn_up, events
from fieldapp.work.intersection.record import (
    StatedIntersection,
    findings_of,
    opened_at,
    stated_intersections,
)
from fieldapp.work.intersection.steps import ORDER, heads_of, least_far
from fieldapp.work.known import Known, parents_over
from fieldapp.work.people import still_enrolled
from fieldapp.work.roles import require
from fieldapp.work.site import Session, Sight, Site
from fieldapp.work.standard_in_force import in_force
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
) -> Known[Intersection]:
    """State which bolts and cables were seen, in place of those that were; None: as they were.

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
    }
    unsigned = {"role": None, "public_key": None, "signature": None}
    body = _before_plates(site, least_far(heads)).model_copy(update=seen | unsigned)
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
    """Say what the standard in force says of an intersection as it stands."""
    return findings_of(site, _stated(site, known), breakaway_at(site, known), site.now())


def breakaway_at(site: Sight, known: Known[Intersection]) -> datetime | None:
    """Give when its breakaway was taken, by the clock on the mine's wall; None: nobody said it."""
    opened = opened_at((it.body for it in events(site, known.body.heading)), known.id)
    return None if opened is None else opened.astimezone(ZoneInfo(site.settings.zone))


def as_demanded(site: Site, known: Known[Intersection]) -> tuple[PlanBolt, ...]:
    """Give a bolt in each position that its class demands, assumed, its plate not looked at.

    Nothing where the class states no pattern of intersections.
    """
    demanded = in_force(site, site.now()).body.support_class(known.body.support_class)
    rule = None if demanded is None else demanded.intersection
    if rule is None or rule.pattern is None:
        return ()
    places = positions_m(known.body.corners, rule.pattern)
    return tuple(PlanBolt(x_m=_metres(x), y_m=_metres(y)) for x, y in places)


def _metres(value: float) -> Decimal:
    return rounded(value, STEP_M)


def _before_plates(site: Site, head: Known[Intersection]) -> Intersection:
    """Give what stands, as it was before somebody signed that it is plated."""
    if head.body.step != "plated":
        return head.body
    before = [it for it in _stated(site, head).revisions if it.step != "plated"]
    said = max(before, key=lambda it: ORDER.index(it.step), default=None)
    if said is None:
        return head.body.model_copy(update={"step": "planned", "count": 0})
    step = {"step": said.step, "count": said.count, "at": said.at}
    return head.body.model_copy(update=step)


def _stated(site: Sight, known: Known[Intersection]) -> StatedIntersection:
    every = stated_intersections(site, known.body.heading)
    return next(it for it in every if it.id == known.id)
