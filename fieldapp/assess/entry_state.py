"""Where people may go in one heading: the entry line and the state up to the face.

Pure: facts and a time in, a state out. The strictest fact wins; nothing here makes entry
milder than a person's signed decision.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from typing import Literal

from schemas.bodies.entry_notice import EntryNotice
from schemas.bodies.event import Event
from schemas.bodies.sign_off import Decision
from schemas.findings import Verdict
from schemas.numbers import text

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


@dataclass(frozen=True)
class RoundFact:
    """One round as far as entry depends on it."""

    round_id: str
    number: int
    joint_m: Decimal
    last_row_m: Decimal
    decision: Decision | None
    """The strictest current sign-off; None while nobody has signed."""
    entry_line_m: Decimal | None
    permitted_until: datetime | None = None
    """When the first deviation under which it was accepted ends."""
    in_dispute: bool = False
    """Two sign-offs of one round stand side by side."""
    batch_in_doubt: str | None = None


@dataclass(frozen=True)
class EventFact:
    """One event, and when somebody inspected after it."""

    event_id: str
    event: Event
    inspected_at: datetime | None = None

    def is_over(self, as_at: datetime) -> bool:
        """Whether the exclusion time has passed *and* somebody has inspected since."""
        if self.inspected_at is None or as_at < self.event.excluded_until:
            return False
        return self.inspected_at >= self.event.excluded_until


@dataclass(frozen=True)
class HeadingFacts:
    """Everything known about entry in one heading."""

    last_row_m: Decimal
    """Where support ended when the heading was entered."""
    face_m: Decimal
    face_allowance_m: Decimal
    """How far the face may stand from the last row of an accepted round."""
    two_rows_m: Decimal
    """How far back the last two rows reach: a firing ends their sign-off."""
    rounds: tuple[RoundFact, ...] = ()
    events: tuple[EventFact, ...] = ()
    notices: tuple[EntryNotice, ...] = ()
    """Current ones; lifted ones are left out."""
    supported_before: bool = False
    other_way_out: bool = False


@dataclass(frozen=True)
class Cap:
    """One reason why nobody goes beyond a chainage."""

    line_m: Decimal
    state: State
    verdict: Verdict
    because: str
    until: datetime | None = None
    barrier: bool = False
    """Whether a barrier stands at the line, or a permission that ended counts as one: who is
    stopped by it meets nothing inbye of it."""


@dataclass(frozen=True)
class EntryState:
    """Where people may go, what holds beyond, and why."""

    line_m: Decimal
    face_m: Decimal
    state: State
    outbye: State
    """The state outbye of where this record began: "not known" in old drives without one."""
    verdict: Verdict
    """The mark: the state up to the face, so that an unsigned metre never shows as accepted."""
    because: tuple[str, ...]
    """The reasons, the strictest first."""
    until: datetime | None
    cut_off: bool
    """Whether ground inbye is reachable only through a closed place."""
    metres_not_signed: Decimal


def entry_state(facts: HeadingFacts, as_at: datetime) -> EntryState:
    """Find how far entry is allowed and what the state is up to the face.

    Parameters
    ----------
    facts : HeadingFacts
        Rounds, events and notices of one heading. [m]
    as_at : datetime
        The time for which the state is asked. [UTC]

    Returns
    -------
    EntryState
        The least of all lines, the strictest of all states, every reason. [m]

    Source
    ------
    Common practice, no source: nobody passes the last row of accepted support; the strictest
    statement stands until a person lifts it.
    """
    signed_m = _signed_to(facts, as_at)
    caps = sorted(_caps(facts, signed_m, as_at), key=_strictest_first)
    shut = [cap.line_m for cap in caps if cap.state != "restricted"]
    line = min(shut, default=signed_m)
    line = max(Decimal(0), min(line, signed_m))
    met = list(_not_behind_a_barrier(caps))
    strictest = max(met, key=lambda cap: STRICTNESS.index(cap.state), default=None)
    closed = [cap for cap in caps if cap.state in STRICTNESS[3:] and cap.line_m < signed_m]
    return EntryState(
        line_m=line,
        face_m=facts.face_m,
        state=strictest.state if strictest else "entry allowed",
        outbye="not known" if facts.supported_before else "entry allowed",
        verdict=max(
            (cap.verdict for cap in caps), key=lambda v: v.gravity, default=Verdict.ACCEPT
        ),
        because=tuple(dict.fromkeys(cap.because for cap in caps)),
        until=max((cap.until for cap in caps if cap.until), default=None),
        cut_off=bool(closed) and not facts.other_way_out,
        metres_not_signed=max(Decimal(0), facts.face_m - signed_m),
    )


def _strictest_first(cap: Cap) -> tuple[int, int, Decimal]:
    return (-cap.verdict.gravity, -STRICTNESS.index(cap.state), cap.line_m)


def _not_behind_a_barrier(caps: list[Cap]) -> Iterator[Cap]:
    """Yield what is met on the way in, up to and with the outermost barrier that stands."""
    barrier_m = min((cap.line_m for cap in caps if cap.barrier), default=None)
    for cap in caps:
        if barrier_m is None or cap.barrier or cap.line_m < barrier_m:
            yield cap


def _signed_to(facts: HeadingFacts, as_at: datetime) -> Decimal:
    """Follow the unbroken run of accepted rounds from where support ended.

    Mesh may end short of a round's last row: entry does too, until the next round is accepted
    with its lap at the joint.
    """
    line = last_row_m = facts.last_row_m
    for fact in sorted(facts.rounds, key=lambda fact: fact.joint_m):
        if fact.joint_m > last_row_m or not _stands(fact, as_at):
            break
        line = max(line, fact.entry_line_m or line)
        last_row_m = max(last_row_m, fact.last_row_m)
    return line


def _stands(fact: RoundFact, as_at: datetime) -> bool:
    lapsed = fact.permitted_until is not None and as_at >= fact.permitted_until
    return fact.decision == "accepted" and not lapsed and not fact.in_dispute


def _caps(facts: HeadingFacts, signed_m: Decimal, as_at: datetime) -> Iterator[Cap]:
    yield from _round_caps(facts, as_at)
    yield from _firing_caps(facts, signed_m)
    unsigned_m = facts.face_m - signed_m
    if unsigned_m > facts.face_allowance_m:
        yield _shut(signed_m, Verdict.NOT_LOOKED_AT, f"{text(unsigned_m)} m are not signed")
    for fact in facts.events:
        if not fact.is_over(as_at):
            yield _event_cap(fact, as_at)
    for notice in facts.notices:
        yield from _notice_caps(notice, as_at)


def _round_caps(facts: HeadingFacts, as_at: datetime) -> Iterator[Cap]:
    for fact in facts.rounds:
        name = f"round {fact.number}"
        if fact.in_dispute:
            reason = f"{name} was signed twice, differently: a person settles it"
            yield _shut(fact.joint_m, Verdict.NO_ENTRY, reason)
        elif fact.decision == "barricaded":
            line_m = _not_beyond_the_joint(fact)
            yield Cap(line_m, "barricaded", Verdict.NO_ENTRY, f"{name} was barricaded")
        elif fact.decision == "sent back":
            yield _shut(_not_beyond_the_joint(fact), Verdict.REWORK, f"{name} was sent back")
        elif fact.decision is None:
            yield _shut(fact.joint_m, Verdict.NOT_LOOKED_AT, f"{name} is not signed")
        elif not _stands(fact, as_at):
            reason = f"the deviation of {name} has ended"
            yield Cap(fact.joint_m, "barricaded", Verdict.NO_ENTRY, reason, barrier=True)


def _firing_caps(facts: HeadingFacts, signed_m: Decimal) -> Iterator[Cap]:
    """End the sign-off of the two rows beside a firing until somebody confirms them."""
    for fact in facts.events:
        fired = fact.event.fired_m
        if fact.event.what != "fired" or fired is None:
            continue
        new_face = fact.event.chainage_m + fired
        if signed_m < new_face and not _is_decided_past(facts, fact.event.chainage_m):
            reason = f"fired {text(fired)} m: the last two rows are not looked at"
            yield _shut(signed_m - facts.two_rows_m, Verdict.NOT_LOOKED_AT, reason)


def _not_beyond_the_joint(fact: RoundFact) -> Decimal:
    """Give where a round that was not accepted leaves entry: short of unconfirmed old rows."""
    return fact.joint_m if fact.entry_line_m is None else min(fact.entry_line_m, fact.joint_m)


def _is_decided_past(facts: HeadingFacts, face_before_m: Decimal) -> bool:
    """Whether somebody has signed for a round inbye of that face since.

    Its entry line says whether the old rows were confirmed, also where it was sent back.
    """
    return any(
        fact.decision is not None and fact.last_row_m > face_before_m for fact in facts.rounds
    )


def _event_cap(fact: EventFact, as_at: datetime) -> Cap:
    event = fact.event
    waits = as_at < event.excluded_until
    left = (
        f"until {event.excluded_until:%H:%M} UTC and an inspection"
        if waits
        else ("until somebody inspects")
    )
    reason = f"{event.what} at {text(event.chainage_m)} m: {left}"
    line = max(Decimal(0), event.chainage_m - event.radius_m)
    until = event.excluded_until if waits else None
    return Cap(line, "no entry, barrier not yet up", Verdict.NO_ENTRY, reason, until)


def _notice_caps(notice: EntryNotice, as_at: datetime) -> Iterator[Cap]:
    said = notice.reason or "stated by a person"
    if notice.what == "no entry":
        yield _shut(notice.from_m, Verdict.NO_ENTRY, f"no entry: {said}")
    elif notice.what == "barrier up":
        reason = f"barricaded: {said}"
        yield Cap(notice.from_m, "barricaded", Verdict.NO_ENTRY, reason, barrier=True)
    elif notice.what == "restricted":
        lapsed = notice.until is not None and as_at >= notice.until
        if lapsed:
            reason = f"the permission for {notice.restricted_to or 'entry'} has ended"
            yield Cap(notice.from_m, "barricaded", Verdict.NO_ENTRY, reason, barrier=True)
        else:
            reason = f"restricted to {notice.restricted_to or said}"
            yield Cap(notice.from_m, "restricted", Verdict.REWORK, reason, notice.until)


def _shut(line_m: Decimal, verdict: Verdict, because: str) -> Cap:
    return Cap(max(Decimal(0), line_m), "no entry, barrier not yet up", verdict, because)
