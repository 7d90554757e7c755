"""Intersections as the standard judges them, and what that means for entry.

An intersection is judged by the revision that it was stated by; what the one in force now makes of
it is shown beside, as of rounds, and decides nothing by itself.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal

from fieldapp.assess.entry.cables import cables_fact, finding_words
from fieldapp.assess.entry.facts import CablesFact, EventFact
from fieldapp.assess.intersections import Crossing, Done, intersection_findings
from fieldapp.work.intersection.record import StatedIntersection, opened_at
from fieldapp.work.known import Known
from fieldapp.work.site import Sight
from fieldapp.work.standard_in_force import NoStandard, adopted, in_force, of_revision
from schemas.bodies.intersection import Intersection
from schemas.findings import Finding, Verdict
from schemas.standard import Standard


@dataclass(frozen=True)
class ByRevision:
    """What one revision of the standard says of an intersection."""

    standard: str
    """"S-2 revision 5"."""
    has_rule: bool
    """Whether it says anything of intersections of that class."""
    findings: tuple[Finding, ...]

    @property
    def breaches(self) -> tuple[Finding, ...]:
        """What does not meet it, the worst first."""
        return tuple(it for it in self.findings if it.verdict is not Verdict.ACCEPT)

    @property
    def words(self) -> str:
        """As it is said: what is worst, that all is met, or that it states no rule."""
        if not self.has_rule:
            return f"{self.standard}: no rule for intersections of that class"
        said = [f"{it.verdict}, {finding_words(it)}" for it in self.breaches[:1]]
        more = f", {len(self.breaches) - 1} more" if len(self.breaches) > 1 else ""
        return f"{self.standard}: {said[0] if said else 'accept'}{more}"


def standard_of(site: Sight, known: Sequence[Intersection], at: datetime) -> Known[Standard]:
    """Give the revision that an intersection is judged by: that which it was stated by.

    Of one that names none, or one that isn't here, the one in force as it was stated first, or
    else now. `known` are its revisions, the first first; the last says by which it stands.

    Raises
    ------
    NoStandard
        None is in force here yet.
    """
    named = known[-1].standard
    shown = None if named is None else of_revision(site, named)
    return shown or _in_force_then(site, known[0].at) or in_force(site, at)


def findings_of(
    site: Sight, known: StatedIntersection, opened: datetime | None, at: datetime
) -> tuple[Finding, ...]:
    """Say what the standard of its day says of an intersection: of each account that stands."""
    try:
        each = [
            _judged(site, known, head, standard_of(site, (*known.revisions, head), at), opened)
            for head in known.heads
        ]
    except NoStandard:
        return ()
    return tuple(dict.fromkeys(it for one in each for it in one.findings))


def judged_otherwise(
    site: Sight, known: StatedIntersection, opened: datetime | None, at: datetime
) -> tuple[ByRevision, ByRevision] | None:
    """Give what the revision of its day and the one in force say, where they say another thing."""
    for head in known.heads:
        try:
            own, now = standard_of(site, (*known.revisions, head), at), in_force(site, at)
        except NoStandard:
            return None
        if own.entry.revision == now.entry.revision:
            continue
        first, second = (_judged(site, known, head, it, opened) for it in (own, now))
        if first.has_rule != second.has_rule or _said(first) != _said(second):
            return first, second
    return None


def cables_facts(
    site: Sight, known: Sequence[StatedIntersection], events: Sequence[EventFact], at: datetime
) -> tuple[CablesFact, ...]:
    """Give what intersections mean for entry."""
    happened = [it.event for it in events]
    return tuple(
        cables_fact(
            it.id,
            it.revisions,
            it.heads,
            cures_h(site, it.revisions),
            findings_of(site, it, opened_at(happened, it.id), at),
        )
        for it in known
    )


def cures_h(site: Sight, revisions: Sequence[Intersection]) -> Decimal | None:
    """Give how long grout cures by every adopted revision: the longest counts.

    None where a revision of the intersection names a bolt that no standard has; a bolt that the
    standard lets count at once cures in no time.
    """
    named = {(it.support_class, it.cable) for it in revisions}
    longest = [_longest_h(site, *it) for it in named]
    known = [it for it in longest if it is not None]
    return max(known) if len(known) == len(longest) else None


def _judged(
    site: Sight,
    known: StatedIntersection,
    head: Intersection,
    standard: Known[Standard],
    opened: datetime | None,
) -> ByRevision:
    name, demanded = standard.body.name, standard.body.support_class(head.support_class)
    if demanded is None or demanded.intersection is None:
        return ByRevision(name, has_rule=False, findings=())
    crossing = Crossing(head, demanded.intersection, demanded, standard.body.measuring)
    done = Done(known.revisions, opened, cures_h(site, known.revisions))
    return ByRevision(name, has_rule=True, findings=intersection_findings(crossing, done))


def _said(judged: ByRevision) -> list[tuple[str, Verdict]]:
    return sorted((it.check, it.verdict) for it in judged.breaches)


def _in_force_then(site: Sight, at: datetime) -> Known[Standard] | None:
    try:
        return in_force(site, at)
    except NoStandard:
        return None


def _longest_h(site: Sight, support_class: str, cable: str) -> Decimal | None:
    known = (it.body.support_class(support_class) for it in adopted(site))
    classes = [it for it in known if it is not None]
    bolts = (bolt for it in classes for bolt in it.bolts if bolt.code == cable)
    each = [it.curing.after_h if it.curing else Decimal(0) for it in bolts]
    rules = (it.intersection.cables for it in classes if it.intersection is not None)
    asked = [it.curing.after_h for it in rules if it is not None and it.curing is not None]
    return max([*each, *asked]) if each else None
