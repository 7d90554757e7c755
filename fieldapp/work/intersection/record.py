"""What the ledger says of a heading's intersections."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from fieldapp.work.known import current, stated
from fieldapp.work.site import Sight
from schemas.bodies.event import Event
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


def opened_at(events: Iterable[Event], thing: str) -> datetime | None:
    """Give when the breakaway of an intersection was taken, the first time that was said."""
    return min((it.at for it in events if it.opens == thing), default=None)
