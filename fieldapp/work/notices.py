"""Notices about entry: stricter by anyone, milder only by who may.

A notice is one thing with revisions: *no entry*, then *barrier up*, then *lifted*. It keeps
the role that first set it, and only that role or a higher one lifts it.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from zoneinfo import ZoneInfo

from fieldapp.assess.times import time_words
from fieldapp.work.authority import INSPECTORS
from fieldapp.work.events import events
from fieldapp.work.headings import heading
from fieldapp.work.inspections import inspections
from fieldapp.work.known import Known, current, one, parents_over
from fieldapp.work.people import still_enrolled
from fieldapp.work.roles import authority, highest, require
from fieldapp.work.round_ends import ends_m
from fieldapp.work.rounds import rounds
from fieldapp.work.site import Session, Sight, Site
from fieldapp.work.writing import state
from schemas.bodies.entry_notice import EntryNotice
from schemas.bodies.event import Event
from schemas.bodies.heading import Heading
from schemas.bodies.person import Role
from schemas.trouble import NotAllowed

ENDED = ("lifted", "inspected")
LIFTER: Role = "shift supervisor"
"""Whoever stated it, nobody below lifts it."""


@dataclass(eq=False)
class NotToBeLifted(NotAllowed):
    """A notice stays; `needed` is the least role that may lift it."""

    reason: str
    needed: Role = LIFTER

    happened = "The notice stays: {reason}."
    kept = "Entry is as it was."
    do_next = "Ask a {needed}, or a higher role; the barrier comes down first."


@dataclass(eq=False)
class TooEarly(NotAllowed):
    """An inspection before the exclusion time ends nothing."""

    until: str

    happened = "Nobody may inspect before the exclusion time ends at {until}."
    kept = "Entry stays withdrawn."
    do_next = "Wait behind the barrier until {until}, then inspect."


def say_no_entry(
    site: Site,
    heading_id: str,
    from_m: Decimal,
    session: Session | None,
    *,
    reason: str | None = None,
) -> Known[EntryNotice]:
    """State *no entry* from a chainage inbye. Anyone may, signed in or not."""
    body = EntryNotice(
        heading=heading(site, heading_id).id,
        what="no entry",
        from_m=from_m,
        reason=reason,
        role=highest(session),
    )
    entry = state(site, "entry_notice", body, author=session.person_id if session else None)
    return Known(entry, body)


def restrict(  # noqa: PLR0913 - what a restriction says
    site: Site,
    heading_id: str,
    from_m: Decimal,
    session: Session,
    *,
    to: str,
    until: datetime | None = None,
    reason: str | None = None,
) -> Known[EntryNotice]:
    """Restrict entry, to what and until when; the permission ends in *barricaded*."""
    body = EntryNotice(
        heading=heading(site, heading_id).id,
        what="restricted",
        from_m=from_m,
        restricted_to=to,
        until=until,
        reason=reason,
        role=highest(session),
    )
    return Known(state(site, "entry_notice", body, author=session.person_id), body)


def answer(
    site: Site,
    notice_id: str,
    session: Session | None,
    *,
    reason: str | None = None,
    anyone_inbye: bool | None = None,
    barrier_up: bool = False,
) -> Known[EntryNotice]:
    """Say more about a notice: why, whether anyone is inbye, that the barrier is up."""
    before = standing(site, notice_id)
    changes: dict[str, object] = {}
    if reason is not None:
        changes["reason"] = reason
    if anyone_inbye is not None:
        changes["anyone_inbye"] = anyone_inbye
    if barrier_up:
        changes["what"] = "barrier up"
    return _revised(site, before, changes, session)


def lift(
    site: Site, notice_id: str, session: Session, *, barrier_down: bool
) -> Known[EntryNotice]:
    """Lift a notice: names what is lifted, and that the barrier is down.

    Raises
    ------
    NotToBeLifted
        The person's role is below the one that set it, or the barrier still stands.
    """
    session = still_enrolled(site, session)
    before = standing(site, notice_id)
    if not barrier_down:
        raise NotToBeLifted("the barrier still stands")
    setter = _setter(site, notice_id)
    needed = LIFTER if setter is None else max(LIFTER, setter, key=authority)
    if authority(highest(session)) < authority(needed):
        raise NotToBeLifted(f"it was set by a {setter or 'person not signed in'}", needed)
    changes = {"what": "lifted", "lifts": (notice_id,), "barrier_down": True}
    return _revised(site, before, changes, session)


def inspect(
    site: Site, heading_id: str, session: Session, *, up_to_m: Decimal
) -> Known[EntryNotice]:
    """State that the ground was inspected up to a chainage, after the events there.

    It ends the events that the inspection reached; one farther inbye still waits. From the
    last row on nobody walks: who looked up to there has reached what happened beyond.

    Raises
    ------
    TooEarly
        An exclusion time is still running.
    NotYours
        A supervisor, technician or engineer inspects.
    """
    session = still_enrolled(site, session)
    role = require(session, *INSPECTORS, act="inspect after an event")
    place = heading(site, heading_id)
    open_events = list(_waiting_for_a_look(site, place, up_to_m))
    waiting = [it.body.excluded_until for it in open_events if site.now() < it.body.excluded_until]
    if waiting:
        until = max(waiting).astimezone(ZoneInfo(site.settings.zone))
        raise TooEarly(time_words(until))
    body = EntryNotice(
        heading=place.id,
        what="inspected",
        from_m=Decimal(0),
        to_m=up_to_m,
        role=role,
        lifts=tuple(it.id for it in open_events),
    )
    return Known(state(site, "entry_notice", body, author=session.person_id), body)


def notices(site: Sight, heading_id: str) -> tuple[Known[EntryNotice], ...]:
    """Give the notices that stand in a heading; where two revisions stand, both."""
    known = current(site, "entry_notice", EntryNotice, heading=heading_id)
    return tuple(it for it in known if it.body.what not in ENDED)


def inspected_at(site: Sight, event_id: str) -> datetime | None:
    """Give the latest time at which somebody inspected after an event."""
    return inspections(current(site, "entry_notice", EntryNotice)).get(event_id)


def _waiting_for_a_look(
    site: Site, place: Known[Heading], up_to_m: Decimal
) -> Iterator[Known[Event]]:
    """Yield the events within reach that nobody has inspected after since their time was over."""
    looked = inspections(current(site, "entry_notice", EntryNotice, heading=place.id))
    last_rows = map(ends_m, rounds(site, place.id))
    last_m = max([place.body.last_row_m, *last_rows])
    # What was stripped is given back by new support alone.
    for it in (it for it in events(site, place.id) if it.body.stripped is None):
        at = looked.get(it.id)
        if up_to_m >= min(it.body.chainage_m, last_m) and (
            at is None or at < it.body.excluded_until
        ):
            yield it


def standing(site: Site, notice_id: str) -> Known[EntryNotice]:
    """Give the current revision of a notice; the strictest where two stand side by side.

    Raises
    ------
    NotToBeLifted
        There is no such notice, or it has ended.
    """
    heads = one(site, "entry_notice", EntryNotice, notice_id)
    open_ones = [it for it in heads if it.body.what not in ENDED]
    if not open_ones:
        raise NotToBeLifted("there is no such notice, or it has been lifted")
    order = ("restricted", "barrier up", "no entry")
    return max(open_ones, key=lambda it: order.index(it.body.what))


def _revised(
    site: Site,
    before: Known[EntryNotice],
    changes: dict[str, object],
    session: Session | None,
) -> Known[EntryNotice]:
    body = before.body.model_copy(update=changes)
    heads = one(site, "entry_notice", EntryNotice, before.id)
    author = session.person_id if session else None
    parents = parents_over(site, heads)
    entry = state(site, "entry_notice", body, author=author, thing_id=before.id, parents=parents)
    return Known(entry, body)


def _setter(site: Site, notice_id: str) -> Role | None:
    """Give the highest role in which anybody stated it: a revision out of order lowers none."""
    said = site.store.ledger.of_thing(notice_id)
    roles = [EntryNotice.model_validate(dict(it.body)).role for it in said]
    return max(roles, key=authority)
