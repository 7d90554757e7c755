"""What the ledger says of a heading's intersections, and what it means for entry."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal

from fieldapp.assess.entry.cables import cables_fact
from fieldapp.assess.entry.facts import CablesFact, EventFact
from fieldapp.assess.intersections import Crossing, Done, intersection_findings
from fieldapp.work.known import current, stated
from fieldapp.work.site import Sight
from fieldapp.work.standard_in_force import NoStandard, adopted, in_force
from schemas.bodies.event import Event
from schemas.bodies.intersection import Intersection
from schemas.findings import Finding
from schemas.standard import Standard


@dataclass(frozen=True)
class StatedIntersection:
    """One intersection, with everything that counts of what was stated of it."""

    id: str
    revisions: tuple[Intersection, ...]
    """The first first."""
    heads: tuple[Intersection, ...]
    """Those that stand; several where a person has to settle it."""


def stated_intersections(site: Sight, heading_id: str) -> tuple[StatedIntersection, ...]:
    """Give the intersections of a heading, by today's chainages."""
    heads: dict[str, list[Intersection]] = defaultdict(list)
    revisions: dict[str, list[Intersection]] = defaultdict(list)
    for it in current(site, "intersection", Intersection, heading=heading_id):
        heads[it.id].append(it.body)
    for it in stated(site, "intersection", Intersection, heading=heading_id):
        revisions[it.id].append(it.body)
    return tuple(
        StatedIntersection(it, tuple(revisions[it]), tuple(heads[it])) for it in sorted(heads)
    )


def cables_facts(
    site: Sight, known: Sequence[StatedIntersection], events: Sequence[EventFact], at: datetime
) -> tuple[CablesFact, ...]:
    """Give what intersections mean for entry, by the standards adopted here."""
    happened = [it.event for it in events]
    return tuple(
        cables_fact(
            it.id,
            it.revisions,
            it.heads,
            _cures_h(site, it.revisions),
            findings_of(site, it, opened_at(happened, it.id), at),
        )
        for it in known
    )


def opened_at(events: Iterable[Event], thing: str) -> datetime | None:
    """Give when the breakaway of an intersection was taken, the first time that was said."""
    return min((it.at for it in events if it.opens == thing), default=None)


def findings_of(
    site: Sight, known: StatedIntersection, opened: datetime | None, at: datetime
) -> tuple[Finding, ...]:
    """Say what the standard in force says of an intersection: of each account that stands."""
    if not known.heads:
        return ()
    try:
        standard = in_force(site, at).body
    except NoStandard:
        return ()
    done = Done(known.revisions, opened, _cures_h(site, known.revisions))
    found = (it for head in known.heads for it in _judged(standard, head, done))
    return tuple(dict.fromkeys(found))


def _judged(standard: Standard, head: Intersection, done: Done) -> tuple[Finding, ...]:
    demanded = standard.support_class(head.support_class)
    if demanded is None or demanded.intersection is None:
        return ()
    crossing = Crossing(head, demanded.intersection, demanded, standard.measuring)
    return intersection_findings(crossing, done)


def _cures_h(site: Sight, revisions: Sequence[Intersection]) -> Decimal | None:
    """Give how long grout cures by every adopted revision: the longest counts.

    None where a revision of the intersection names a bolt that no standard has; a bolt that the
    standard lets count at once cures in no time.
    """
    named = {(it.support_class, it.cable) for it in revisions}
    longest = [_longest_h(site, *it) for it in named]
    known = [it for it in longest if it is not None]
    return max(known) if len(known) == len(longest) else None


def _longest_h(site: Sight, support_class: str, cable: str) -> Decimal | None:
    known = (it.body.support_class(support_class) for it in adopted(site))
    classes = [it for it in known if it is not None]
    bolts = (bolt for it in classes for bolt in it.bolts if bolt.code == cable)
    each = [it.curing.after_h if it.curing else Decimal(0) for it in bolts]
    rules = (it.intersection.cables for it in classes if it.intersection is not None)
    asked = [it.curing.after_h for it in rules if it is not None and it.curing is not None]
    return max([*each, *asked]) if each else None
