"""By which of its heading's chainages something was stated, and what it says in today's."""

from datetime import datetime
from decimal import Decimal
from typing import Final, TypeVar

from pydantic import TypeAdapter, ValidationError

from fieldapp.assess.rechaining import AS_READ, Chaining, in_order
from fieldapp.work.authority import Which, counting
from fieldapp.work.site import Sight, Site
from schemas.bodies import BODIES
from schemas.bodies.bolt_test import BoltTest
from schemas.bodies.damage import Damage
from schemas.bodies.event import Event
from schemas.bodies.heading import Heading, Rechained
from schemas.bodies.in_heading import InHeading
from schemas.bodies.round import Round
from schemas.bodies.sign_off import SignOff
from schemas.canonical import JsonValue
from schemas.entry import Entry
from schemas.moved import with_chainages_moved
from schemas.part import Part

Body = TypeVar("Body", bound=Part)

BY_THE_APP = (Round, SignOff)
"""Their chainages follow from what the tablet knew, never from a mark on the rock."""


_SAID: Final = TypeAdapter(tuple[Rechained, ...])


def rechained_of(site: Sight, heading_id: str) -> tuple[Rechained, ...]:
    """Give how a heading was chained anew, the oldest first.

    Where two revisions of it stand side by side, what both hold, and of the rest what takes
    places outbye: until a person settles it the stricter stands.
    """
    known = counting(site)

    def found() -> tuple[Rechained, ...]:
        heads = known.heads(Which("heading", thing=heading_id))
        said = [set(_said_of(it)) for it in heads]
        if not said:
            return ()
        agreed, every = set.intersection(*said), set.union(*said)
        return in_order(agreed | {it for it in every if it.by_m < 0})

    return known.remembered(("rechained", heading_id), found)


def chained_now(site: Sight, heading_id: str) -> datetime | None:
    """Give the time of the newest re-chaining that is known of a heading; None where none is."""
    rechained = rechained_of(site, heading_id)
    return rechained[-1].at if rechained else None


def chaining_of(site: Sight, entry: Entry, body: Part) -> Chaining:
    """Tell by which chainages something was stated, and what was measured anew since."""
    if isinstance(body, Heading):
        return Chaining(in_order(body.rechained))
    if not isinstance(body, InHeading):
        return AS_READ
    rechained = rechained_of(site, str(entry.body.get("heading")))
    if not rechained:
        return AS_READ
    if body.chained_at is not None or isinstance(body, BY_THE_APP):
        return Chaining(rechained, body.chained_at)
    return Chaining(rechained, doubted_to=_read_at(entry, body))


def chained(site: Site, body: Body) -> Body:
    """Give what is about to be stated with the word that its chainages are today's.

    What says of itself by which they are keeps that: a draft was begun by older ones, maybe.
    """
    asked = isinstance(body, InHeading) and not isinstance(body, BY_THE_APP)
    if not asked or "chained_at" in body.model_fields_set:
        return body
    at = chained_now(site, str(getattr(body, "heading", "")))
    return body.model_copy(update={"chained_at": at}) if at else body


def said_once_more(site: Site, entry: Entry) -> dict[str, JsonValue]:
    """Give what has to be said of a place that is stated again as it was: by whose chainages.

    What doesn't say it, and was stated before any were measured anew, would seem to be of today.
    """
    body = BODIES[entry.kind].model_validate(dict(entry.body))
    chaining = chaining_of(site, entry, body)
    if chaining.doubted_to is None or not chaining.moves or chaining.doubt_m:
        return {}
    return {"chained_at": chaining.doubted_to.isoformat()}


def in_chainages(body: Body, chaining: Chaining, until: datetime | None = None) -> Body:
    """Give what was stated with the chainages of today, or of a time.

    A round moves as one with its joint, from which its rows are taped.
    """
    if not chaining.moves:
        return body
    if isinstance(body, Heading):
        names = ("face_m", "last_row_m")
        places = {it: chaining.today_m(getattr(body, it), until) for it in names}
        return body.model_copy(update=places)
    moved = _moved(body, chaining, until)
    return moved.model_copy(update={"chained_at": until or chaining.rechained[-1].at})


def _moved(body: Body, chaining: Chaining, until: datetime | None) -> Body:
    if isinstance(body, Round):
        return moved_by(body, chaining.today_m(body.joint_m, until) - body.joint_m)
    moved = with_chainages_moved(body, lambda it: chaining.today_m(it, until))
    if isinstance(moved, Event) and moved.stripped is not None:
        ends_m = moved.stripped.to_m + chaining.doubt_m
        stripped = moved.stripped.model_copy(update={"to_m": ends_m})
        return moved.model_copy(update={"stripped": stripped})
    return moved


def moved_by(body: Body, by_m: Decimal) -> Body:
    """Give what was stated moved along the heading as one."""
    return with_chainages_moved(body, lambda it: max(it + by_m, Decimal(0)))


def _said_of(heading: Entry) -> tuple[Rechained, ...]:
    """Read what a revision of a heading says of it, and nothing else: each look asks."""
    try:
        return _SAID.validate_python(heading.body.get("rechained", ()))
    except ValidationError:  # a newer version's
        return ()


def _read_at(entry: Entry, body: Part) -> datetime:
    """Give when somebody read the place that is stated."""
    if isinstance(body, Event):
        return body.at
    if isinstance(body, Damage):
        return body.seen_at
    return body.tested_at if isinstance(body, BoltTest) else entry.made_at
