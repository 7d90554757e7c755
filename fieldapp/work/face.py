"""Where the face of a heading is: surveyed, fired for, or measured from the last row.

A firing always takes the face inbye, whatever chainage was typed with it; only a round that was
begun after it brings a measured face back. What is not known is taken as farther inbye: then
more metres are unsigned, never fewer.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal

from fieldapp.assess.readings import face_readings
from fieldapp.work.events import events
from fieldapp.work.known import Known
from fieldapp.work.rounds import last_row_m, rounds
from fieldapp.work.site import Site
from schemas.bodies.event import Event
from schemas.bodies.heading import Heading
from schemas.bodies.round import Round
from schemas.logical_clock import LogicalTime


@dataclass(frozen=True)
class Face:
    """Where the face is, and where it was before each firing."""

    chainage_m: Decimal
    before_m: dict[str, Decimal]
    """By the firing's id."""


def face(site: Site, place: Known[Heading]) -> Face:
    """Follow the face through everything that was stated of it, in the order of stating."""
    happened = events(site, place.id)
    return followed(place.body.face_m, happened, first_stated(site, rounds(site, place.id)))


def first_stated(
    site: Site, seen: Sequence[Known[Round]]
) -> tuple[tuple[LogicalTime, Known[Round]], ...]:
    """Give each round with the time of its first revision: looked at again, it is no newer."""
    return tuple((_first_clock(site, known), known) for known in seen)


def followed(
    surveyed_m: Decimal,
    happened: Sequence[Known[Event]],
    seen: Sequence[tuple[LogicalTime, Known[Round]]],
) -> Face:
    """Follow the face from where it was when the heading was entered."""
    stated: list[tuple[LogicalTime, Known[Event] | Known[Round]]] = list(seen)
    stated += [(it.entry.clock, it) for it in happened if it.body.what == "fired"]
    face_m, fired_at, before = surveyed_m, None, {}
    for _, known in sorted(stated, key=lambda it: (it[0], it[1].entry.revision)):
        if isinstance(known.body, Event):
            before[known.id] = face_m
            face_m = _fired(known.body, face_m)
            fired_at = max(known.body.at, fired_at or known.body.at)
        else:
            face_m = _measured(known.body, face_m, fired_at)
    return Face(face_m, before)


def _fired(event: Event, face_m: Decimal) -> Decimal:
    """Give the face after a firing; a chainage far from the face is a slip of the finger."""
    near = abs(event.chainage_m - face_m) <= event.radius_m
    at_m = max(face_m, event.chainage_m) if near else face_m
    return at_m + (event.fired_m or Decimal(0))


def _measured(seen: Round, face_m: Decimal, fired_at: datetime | None) -> Decimal:
    """Give the face as a round measured it; one begun before the last firing is no measure."""
    readings = face_readings(seen)
    if not readings:
        return face_m
    measured_m = last_row_m(seen) + max(it.value_m for it in readings.values())
    stale = fired_at is not None and seen.started_at < fired_at
    return max(face_m, measured_m) if stale else measured_m


def _first_clock(site: Site, known: Known[Round]) -> LogicalTime:
    if not known.entry.parents:
        return known.entry.clock
    return min(entry.clock for entry in site.store.ledger.of_thing(known.id))
