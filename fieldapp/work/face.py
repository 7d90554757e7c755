"""Where the face of a heading is: surveyed, fired for, or measured from the last row.

A firing always takes the face inbye, whatever chainage was typed with it; a round takes it
inbye where it read it there, and outbye by no more than somebody gave a reason for
(`fieldapp.assess.known_face`). What is not known is taken as farther inbye: then more metres
are unsigned, never fewer.
"""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime
from decimal import Decimal

from fieldapp.assess.known_face import face_after_m, face_read_m
from fieldapp.assess.rechaining import AS_READ, Chaining
from fieldapp.work.events import events
from fieldapp.work.headings import strictest_as_read
from fieldapp.work.known import Known, current
from fieldapp.work.rechaining import rechained_of
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
class Surveyed:
    """Where the face was when the heading was entered."""

    face_m: Decimal
    """By the chainages of then."""
    chaining: Chaining = AS_READ


@dataclass(frozen=True)
class StatedRound:
    """A round by every current revision, and when its first one was stated."""

    round_id: str
    clock: LogicalTime
    heads: tuple[Known[Round], ...]


def face(site: Sight, place: Known[Heading]) -> Face:
    """Follow the face through everything that was stated of it, in the order of stating."""
    seen = current(site, "round", Round, heading=place.id)
    return followed(surveyed(site, place.id), events(site, place.id), first_stated(site, seen))


def surveyed(site: Sight, heading_id: str) -> Surveyed:
    """Give where the face was when the heading was entered, as the strictest revision has it."""
    face_m = strictest_as_read(site, heading_id).face_m
    return Surveyed(face_m, Chaining(rechained_of(site, heading_id)))


def first_stated(site: Sight, seen: Sequence[Known[Round]]) -> tuple[StatedRound, ...]:
    """Give each round with the time of its first revision: looked at again, it is no newer.

    A round over old support never saw the face.
    """
    heads = defaultdict(list)
    for known in seen:
        if known.body.over is None:
            heads[known.id].append(known)
    return tuple(
        StatedRound(round_id, _first_clock(site, of_one), tuple(of_one))
        for round_id, of_one in heads.items()
    )


def followed(
    entered: Surveyed, happened: Sequence[Known[Event]], seen: Sequence[StatedRound]
) -> Face:
    """Follow the face from where it was when the heading was entered.

    Each step is taken by the chainages of its day: what was fired reaches from a face where that
    was read, and moves with it when chainages are measured anew.
    """
    fired = [it for it in happened if it.body.what == "fired"]
    stated: list[tuple[LogicalTime, str, Known[Event] | StatedRound]] = [
        *((it.entry.clock, it.id, it) for it in fired),
        *((it.clock, it.round_id, it) for it in seen),
    ]
    by, found = entered.chaining, Face(entered.face_m, entered.face_m)
    for _, thing_id, what in sorted(stated, key=lambda it: it[:2]):
        by, found = _chained_anew(by, found, _chained_at(what))
        found.before_m[thing_id] = found.chainage_m
        if isinstance(what, StatedRound):
            heads = [it.by_chainages_of(by.since) for it in what.heads]
            face_m, read_m = _looked_at(heads, found.chainage_m)
        else:
            face_m, read_m = _fired(what.by_chainages_of(by.since), found.chainage_m), None
        found.after_m[thing_id] = face_m
        from_m = min(found.fired_from_m, face_m)
        found = replace(found, chainage_m=face_m, read_m=read_m, fired_from_m=from_m)
    today = by.rechained[-1].at if by.rechained else None
    return _chained_anew(by, found, today)[1]


def _chained_at(what: Known[Event] | StatedRound) -> datetime | None:
    """Give by the chainages of which time something was stated."""
    heads = what.heads if isinstance(what, StatedRound) else (what,)
    return max((it.chaining.since for it in heads if it.chaining.since), default=None)


def _chained_anew(by: Chaining, face: Face, at: datetime | None) -> tuple[Chaining, Face]:
    """Give the face by the chainages of a time; as it is, where it is by those or newer ones."""
    if at is None or (by.since is not None and at <= by.since):
        return by, face
    moved = Face(
        chainage_m=by.today_m(face.chainage_m, at),
        fired_from_m=by.today_m(face.fired_from_m, at),
        read_m=None if face.read_m is None else by.today_m(face.read_m, at),
        before_m={it: by.today_m(face_m, at) for it, face_m in face.before_m.items()},
        after_m={it: by.today_m(face_m, at) for it, face_m in face.after_m.items()},
    )
    return replace(by, since=at), moved


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
