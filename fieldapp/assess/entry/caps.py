"""Everything that ends or withdraws entry in one heading, each with its reason."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import datetime
from decimal import Decimal
from typing import Literal

from fieldapp.assess.entry.facts import EventFact, HeadingFacts, RoundFact
from fieldapp.assess.entry.rounds_standing import advances, stands
from fieldapp.assess.times import time_from
from schemas.bodies.entry_notice import EntryNotice
from schemas.bodies.event import Event
from schemas.findings import Verdict
from schemas.numbers import SAID_M, rounded, text

State = Literal[
    "entry allowed",
    "not known",
    "restricted",
    "barricaded",
    "no entry, barrier not yet up",
]
STRICTNESS: tuple[State, ...] = (
    "entry allowed",
    "not known",
    "restricted",
    "barricaded",
    "no entry, barrier not yet up",
)

IN_THE_HEADING = ("fired", "fall of ground", "vehicle strike", "water change")
"""Events that can't have happened beyond the face; a tremor or another's blast can."""

Origin = Literal["rounds", "stated", "unread"]
"""Whence a reason comes: from rounds and who signed them; from an event or a notice; from an
entry that only a newer version can read, or that is missing, or from a tablet that is believed
no longer. No sign-off ends the second and the third."""


@dataclass(frozen=True)
class Cap:
    """One reason why nobody goes beyond a chainage."""

    line_m: Decimal
    state: State
    verdict: Verdict
    because: str
    until: datetime | None = None
    barrier: bool = False
    """Whether a barrier stands at the line: who is stopped by it meets nothing inbye of it."""
    lapsed: bool = False
    """Whether a permission ended here: it counts as a barrier before metres that nobody has
    signed, never before a place that somebody or something has closed."""
    origin: Origin = "rounds"


def caps_of(facts: HeadingFacts, signed_m: Decimal, as_at: datetime) -> Iterator[Cap]:
    """Yield every reason why nobody goes beyond a chainage.

    Parameters
    ----------
    facts : HeadingFacts
        Rounds, events and notices of one heading. [m]
    signed_m : Decimal
        Chainage of the last row of accepted support. [m]
    as_at : datetime
        The time for which it is asked. [UTC]

    Returns
    -------
    iterator of Cap
        In no order. [m]

    Source
    ------
    Common practice, no source: what is stricter stands until a person lifts it.
    """
    by = facts.no_earlier_than_known(as_at)
    yield from _round_caps(facts, by)
    yield from _firing_caps(facts, signed_m)
    unsigned_m = facts.face_m - signed_m
    if unsigned_m > facts.face_allowance_m:
        yield shut(signed_m, Verdict.NOT_LOOKED_AT, _not_signed(facts, unsigned_m))
    for cap in _stated_caps(facts, signed_m, as_at):
        yield replace(cap, origin="stated")
    for unread in facts.unread:
        reason = f"{unread} was stated with a newer version: this one can't read it"
        yield replace(shut(Decimal(0), Verdict.NO_ENTRY, reason), origin="unread")
    if facts.not_whole:
        reason = "what was stated here is missing or altered on this tablet"
        yield _nothing_known(reason)
    if facts.revoked:
        yield _nothing_known("the office has revoked this tablet: go by another one")


def _nothing_known(because: str) -> Cap:
    return Cap(Decimal(0), "not known", Verdict.NOT_LOOKED_AT, because, origin="unread")


def _stated_caps(facts: HeadingFacts, signed_m: Decimal, as_at: datetime) -> Iterator[Cap]:
    by = facts.no_earlier_than_known(as_at)
    for fact in facts.events:
        if fact.event.stripped is None and not fact.is_over(as_at):
            cap = _event_cap(fact, fact.face_before_m or facts.face_m, as_at)
            yield _with_doubt(cap, fact.doubt_m)
    for it in facts.notices:
        if it.notice.what == "restricted":
            cap = _restricted_cap(it.notice, by, as_at)
        else:
            cap = _closed_cap(it.notice, _stated_from(it.notice, facts, signed_m))
        yield _with_doubt(cap, it.doubt_m)


def _with_doubt(cap: Cap, doubt_m: Decimal) -> Cap:
    """Say of a place that may be by old marks or by new ones that the one outbye counts."""
    if not doubt_m:
        return cap
    reason = f"{cap.because}, by old marks or new: taken {text(doubt_m)} m outbye"
    return replace(cap, because=reason)


def _not_signed(facts: HeadingFacts, unsigned_m: Decimal) -> str:
    """Say how much is not signed, and of a face read too near that nobody accounted for it."""
    said = f"{text(unsigned_m)} m are not signed"
    last_m = max((it.last_row_m for it in advances(facts.rounds)), default=facts.last_row_m)
    if facts.face_read_m is None or facts.face_m - last_m <= facts.face_allowance_m:
        return said
    read, known = text(facts.face_read_m), text(facts.face_m)
    return f"{said}: the face was read at {read} m, nobody said why it is not at {known} m"


def _round_caps(facts: HeadingFacts, by: datetime) -> Iterator[Cap]:
    for fact in facts.rounds:
        name = fact.name
        yield from _not_believed_caps(fact, facts.two_rows_m, name)
        if fact.in_dispute:
            reason = f"{name} was stated differently by two people: a person settles it"
            yield shut(_not_beyond_the_joint(fact), Verdict.NO_ENTRY, reason)
        elif fact.decision == "barricaded":
            line_m = _not_beyond_the_joint(fact)
            yield Cap(line_m, "barricaded", Verdict.NO_ENTRY, f"{name} was barricaded")
        elif fact.decision == "sent back":
            yield shut(_not_beyond_the_joint(fact), Verdict.REWORK, f"{name} was sent back")
        elif fact.decision is None:
            line_m = fact.joint_m - facts.two_rows_m
            yield shut(line_m, Verdict.NOT_LOOKED_AT, f"{name} is not signed")
        elif fact.looked_at_again:
            reason = f"{name} is being looked at again"
            yield shut(fact.joint_m, Verdict.NOT_LOOKED_AT, reason)
        elif not stands(fact, by):
            reason = f"the deviation of {name} has ended"
            yield Cap(fact.joint_m, "barricaded", Verdict.NO_ENTRY, reason, lapsed=True)


def _not_believed_caps(fact: RoundFact, two_rows_m: Decimal, name: str) -> Iterator[Cap]:
    """Name a sign-off that counts as none; beside one that counts it withdraws nothing."""
    if fact.decision is None:
        for why in dict.fromkeys(fact.not_believed):
            reason = f"a sign-off of {name} counts as none: {why}"
            yield shut(fact.joint_m - two_rows_m, Verdict.NOT_LOOKED_AT, reason)


def _firing_caps(facts: HeadingFacts, signed_m: Decimal) -> Iterator[Cap]:
    """End the sign-off of the two rows beside a firing until somebody confirms them.

    Whoever signed for a round inbye of that face since has: its entry line says whether the
    old rows were confirmed, also where it was sent back.
    """
    decided = (it.last_row_m for it in advances(facts.rounds) if it.decision is not None)
    decided_to_m = max(decided, default=Decimal("-Infinity"))
    for fact in facts.events:
        known_m = fact.face_before_m
        face_m = fact.event.chainage_m if known_m is None else known_m
        if fact.event.what == "fired" and decided_to_m <= face_m:
            fired = fact.event.fired_m
            metres = "" if fired is None else f" {text(fired)} m"
            reason = f"fired{metres}: the last two rows are not looked at"
            yield shut(signed_m - facts.two_rows_m, Verdict.NOT_LOOKED_AT, reason)


def _not_beyond_the_joint(fact: RoundFact) -> Decimal:
    """Give where a round that was not accepted leaves entry: short of unconfirmed old rows."""
    return fact.joint_m if fact.entry_line_m is None else min(fact.entry_line_m, fact.joint_m)


def _event_cap(fact: EventFact, face_m: Decimal, as_at: datetime) -> Cap:
    event = fact.event
    waits = as_at < event.excluded_until
    left = f"until {time_from(event.excluded_until, as_at)} and an inspection"
    reason = f"{event.what} at {text(rounded(event.chainage_m, SAID_M))} m: "
    reason += left if waits else "until somebody inspects"
    until = event.excluded_until if waits else None
    line = max(Decimal(0), _happened_at(event, face_m) - event.radius_m)
    return Cap(line, "no entry, barrier not yet up", Verdict.NO_ENTRY, reason, until)


def _happened_at(event: Event, face_m: Decimal) -> Decimal:
    """Give the chainage that an event withdraws entry around.

    One so far beyond the face that it would reach nothing was mistyped, and counts at the face.
    """
    reaches = event.chainage_m - event.radius_m < face_m
    if reaches and event.what not in IN_THE_HEADING:
        return event.chainage_m
    return min(event.chainage_m, face_m)


def _stated_from(notice: EntryNotice, facts: HeadingFacts, signed_m: Decimal) -> Decimal:
    """Give where a notice begins: one typed far beyond the face is meant nobody knows where."""
    beyond_m = notice.from_m - facts.face_m
    if beyond_m <= 0:
        return notice.from_m
    return signed_m - facts.two_rows_m if beyond_m <= facts.two_rows_m else Decimal(0)


def _closed_cap(notice: EntryNotice, from_m: Decimal) -> Cap:
    said = notice.reason or "stated by a person"
    if notice.what == "barrier up":
        reason = f"barricaded: {said}"
        return Cap(max(Decimal(0), from_m), "barricaded", Verdict.NO_ENTRY, reason, barrier=True)
    return shut(from_m, Verdict.NO_ENTRY, f"no entry: {said}")


def _restricted_cap(notice: EntryNotice, by: datetime, as_at: datetime) -> Cap:
    """Say to whom entry is restricted and until when; an ended permission bars the place."""
    if notice.until is not None and by >= notice.until:
        reason = f"the permission for {notice.restricted_to or 'entry'} has ended"
        return Cap(notice.from_m, "barricaded", Verdict.NO_ENTRY, reason, lapsed=True)
    whom = notice.restricted_to or notice.reason or "some"
    reason = f"restricted to {whom}"
    if notice.until is not None:
        reason = f"restricted to {whom} until {time_from(notice.until, as_at)}"
    return Cap(notice.from_m, "restricted", Verdict.REWORK, reason, notice.until)


def shut(line_m: Decimal, verdict: Verdict, because: str) -> Cap:
    """Say that nobody goes beyond a chainage, before a barrier stands there.

    Parameters
    ----------
    line_m : Decimal
        The chainage. [m]
    verdict : Verdict
        How grave it is. [-]
    because : str
        Why. [-]

    Returns
    -------
    Cap
        No entry, the barrier not yet up; never outbye of the heading's origin. [m]

    Source
    ------
    Common practice, no source.
    """
    return Cap(max(Decimal(0), line_m), "no entry, barrier not yet up", verdict, because)
