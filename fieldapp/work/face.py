"""Where the face of a heading is: surveyed, fired for, or measured from the last row.

A firing always takes the face inbye, whatever chainage was typed with it; a round takes it
inbye where it read it there, and outbye by no more than somebody gave a reason for
(`fieldapp.assess.known_face`). What is not known is taken as farther inbye: then more metres
are unsigned, never fewer.
"""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, field
from decimal import Decimal

from fieldapp.assess.known_face import face_after_m, face_read_m
from fieldapp.work.events import events
from fieldapp.work.known import Known, current
from fieldapp.work.site import Sight
from schemas.bodies.event import Event
from schemas.bodies.heading import Heading
from schemas.bodies.round import Round
from schemas.logical_clock import LogicalTime


@dataclass(frozen=True)
class Face:
    """Where the face is, and where it was along the way."""

    chainage_m: Decimal
    fired_from_m: Decimal
    """Where it was before anything was fired that is recorded."""
    read_m: Decimal | None = None
    """Where the last round read it, where that is outbye of it and nobody fired since."""
    before_m: dict[str, Decimal] = field(default_factory=dict)
    """Before each firing and each round, by its id."""
    after_m: dict[str, Decimal] = field(default_factory=dict)
    """After each firing and each round."""


@dataclass(frozen=True)
class StatedRound:
    """A round by every current revision, and when its first one was stated."""

    round_id: str
    clock: LogicalTime
    heads: tuple[Round, ...]


def face(site: Sight, place: Known[Heading]) -> Face:
    """Follow the face through everything that was stated of it, in the order of stating."""
    seen = current(site, "round", Round, heading=place.id)
    return followed(place.body.face_m, events(site, place.id), first_stated(site, seen))


def first_stated(site: Sight, seen: Sequence[Known[Round]]) -> tuple[StatedRound, ...]:
    """Give each round with the time of its first revision: looked at again, it is no newer.

    A round over old support never saw the face.
    """
    heads = defaultdict(list)
    for known in seen:
        if known.body.over is None:
            heads[known.id].append(known)
    return tuple(
        StatedRound(round_id, _first_clock(site, of_one), tuple(it.body for it in of_one))
        for round_id, of_one in heads.items()
    )


def followed(
    surveyed_m: Decimal, happened: Sequence[Known[Event]], seen: Sequence[StatedRound]
) -> Face:
    """Follow the face from where it was when the heading was entered."""
    fired = [it for it in happened if it.body.what == "fired"]
    stated: list[tuple[LogicalTime, str, Known[Event] | StatedRound]] = [
        *((it.entry.clock, it.id, it) for it in fired),
        *((it.clock, it.round_id, it) for it in seen),
    ]
    face_m, from_m, read_m, before, after = surveyed_m, surveyed_m, None, {}, {}
    for _, thing_id, what in sorted(stated, key=lambda it: it[:2]):
        before[thing_id] = face_m
        if isinstance(what, StatedRound):
            face_m, read_m = _looked_at(what.heads, face_m)
        else:
            face_m, read_m = _fired(what.body, face_m), None
        from_m = min(from_m, face_m)
        after[thing_id] = face_m
    return Face(face_m, from_m, read_m, before, after)


def _fired(event: Event, face_m: Decimal) -> Decimal:
    """Give the face after a firing; a chainage far from the face is a slip of the finger."""
    near = abs(event.chainage_m - face_m) <= event.radius_m
    at_m = max(face_m, event.chainage_m) if near else face_m
    return at_m + (event.fired_m or Decimal(0))


def _looked_at(heads: Sequence[Round], face_m: Decimal) -> tuple[Decimal, Decimal | None]:
    """Give the face after a round, and where it was read, if that is outbye of it.

    Of several revisions side by side the one counts that leaves the face farthest inbye.
    """
    after_m = max(face_after_m(it, face_m) for it in heads)
    read_m = max((read for it in heads if (read := face_read_m(it)) is not None), default=None)
    return after_m, read_m if read_m is not None and read_m < after_m else None


def _first_clock(site: Sight, heads: Sequence[Known[Round]]) -> LogicalTime:
    (first, *_) = heads
    if all(not it.entry.parents for it in heads):
        return min(it.entry.clock for it in heads)
    return min(entry.clock for entry in site.store.ledger.of_thing(first.id))
