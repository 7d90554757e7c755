"""What the ledger says of a heading's intersections, and what it means for entry."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from fieldapp.assess.entry.cables import cables_fact
from fieldapp.assess.entry.facts import CablesFact
from fieldapp.work.known import current, stated
from fieldapp.work.site import Sight
from fieldapp.work.standard_in_force import adopted
from schemas.bodies.intersection import Intersection


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


def cables_facts(site: Sight, known: Sequence[StatedIntersection]) -> tuple[CablesFact, ...]:
    """Give what intersections mean for entry, by the standards adopted here."""
    return tuple(
        cables_fact(it.id, it.revisions, it.heads, _cures_h(site, it.revisions)) for it in known
    )


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
    classes = (it.body.support_class(support_class) for it in adopted(site))
    bolts = (bolt for it in classes if it is not None for bolt in it.bolts if bolt.code == cable)
    return max((it.curing.after_h if it.curing else Decimal(0) for it in bolts), default=None)
