"""Where people may go in one heading: the entry line and the state up to the face.

Pure: facts and a time in, a state out. The strictest fact wins; nothing here makes entry
milder than a person's signed decision.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from typing import Final

from fieldapp.assess.bolt_tests.failed_support import FailedTest
from fieldapp.assess.entry.bare_ground import Bare, bare_ground, without
from fieldapp.assess.entry.cables import cable_caps
from fieldapp.assess.entry.caps import STRICTNESS, Cap, Origin, State, caps_of
from fieldapp.assess.entry.coverage import Coverage, coverage, signed_stretches
from fieldapp.assess.entry.damage import damage_caps
from fieldapp.assess.entry.deviations import UnderDeviation, deviations_of
from fieldapp.assess.entry.doubts import Doubt, doubts_of
from fieldapp.assess.entry.facts import EventFact, HeadingFacts, RoundFact
from fieldapp.assess.entry.rounds_standing import signed_to, standing
from fieldapp.assess.entry.stripped import stripped_caps
from fieldapp.assess.entry.torn import torn_caps
from fieldapp.assess.times import time_from
from schemas.findings import Verdict

__all__ = [
    "STRICTNESS",
    "UNSUPPORTED",
    "Coverage",
    "Doubt",
    "EntryState",
    "EventFact",
    "FailedTest",
    "HeadingFacts",
    "Reason",
    "RoundFact",
    "State",
    "UnderDeviation",
    "entry_state",
]


UNSUPPORTED: Final = "no accepted support"
"""What is left before the face where nothing else closes it: the next round's ground."""


@dataclass(frozen=True)
class Reason:
    """Why nobody goes farther, and whence that comes."""

    words: str
    state: State
    """What it makes of the ground beyond."""
    origin: Origin = "rounds"
    until: str = ""
    """When that ends by the clock, as it is said in the words too: a permission does."""


@dataclass(frozen=True)
class EntryState:
    """Where people may go, what holds beyond, and why."""

    line_m: Decimal
    face_m: Decimal
    state: State
    outbye: State
    """The state up to the line: "not known" in old drives without a record."""
    verdict: Verdict
    """The gravest of what holds entry back; accept where nothing does."""
    reasons: tuple[Reason, ...]
    """The strictest first."""
    until: datetime | None
    cut_off: bool
    """Whether ground inbye is reachable only through a closed place."""
    metres_not_signed: Decimal
    coverage: Coverage
    doubts: tuple[Doubt, ...] = ()
    """Batches that an engineer decides on; they close nothing by themselves."""
    deviations: tuple[UnderDeviation, ...] = ()
    """Under which rounds stand accepted at that time."""
    failed_tests: tuple[FailedTest, ...] = ()
    """Of support; they close nothing by themselves, and whoever enters knows of them."""

    @property
    def because(self) -> tuple[str, ...]:
        """The reasons in words, the strictest first, each once."""
        return tuple(dict.fromkeys(reason.words for reason in self.reasons))

    @property
    def stays(self) -> tuple[str, ...]:
        """Those of them that no sign-off of a round ends: events, notices, what can't be read."""
        others = (reason.words for reason in self.reasons if reason.origin != "rounds")
        return tuple(dict.fromkeys(others))

    @property
    def reaches_the_face(self) -> bool:
        """Whether people may go to the face itself: no metre without accepted support is left."""
        return self.state == "entry allowed" and self.line_m >= self.face_m

    @property
    def beyond(self) -> str:
        """What holds from the line to the face; empty where people may go to the face itself.

        A restriction opens no ground without accepted support, wherever it begins.
        """
        if self.reaches_the_face:
            return ""
        return UNSUPPORTED if self.state in ("entry allowed", "restricted") else self.state

    @property
    def mark(self) -> Verdict | None:
        """The mark up to the face: accept only where the state holds up to it, else none."""
        held = self.verdict is not Verdict.ACCEPT
        return self.verdict if held or self.reaches_the_face else None


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
    signed_m = signed_to(facts, as_at)
    accepted = standing(facts, as_at)
    bare = bare_ground(facts, accepted)
    found = (
        *caps_of(facts, signed_m, as_at),
        *stripped_caps(facts, bare, signed_m),
        *damage_caps(facts),
        *cable_caps(facts, as_at),
        *torn_caps(facts),
    )
    caps = sorted(found, key=_strictest_first)
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
        outbye=_outbye(facts, caps, line, accepted),
        verdict=max(
            (cap.verdict for cap in caps), key=lambda v: v.gravity, default=Verdict.ACCEPT
        ),
        reasons=tuple(_reason(cap, as_at) for cap in caps),
        until=_until(strictest, met),
        cut_off=bool(closed) and not facts.other_way_out,
        metres_not_signed=_not_signed_m(facts, signed_m, bare),
        coverage=coverage(facts, bare),
        doubts=doubts_of(facts, as_at),
        deviations=deviations_of(accepted, as_at),
        failed_tests=facts.failed_tests,
    )


def _not_signed_m(facts: HeadingFacts, signed_m: Decimal, bare: Iterable[Bare]) -> Decimal:
    """Give the metres up to the face whose support nobody signed, or was stripped since."""
    ahead_m = max(Decimal(0), facts.face_m - signed_m)
    signed = [(Decimal(0), signed_m)]
    kept = without(signed, ((it.from_m, it.to_m) for it in bare))
    return ahead_m + signed_m - sum((to_m - from_m for from_m, to_m in kept), Decimal(0))


def _reason(cap: Cap, as_at: datetime) -> Reason:
    ends_at = cap.until if cap.state == "restricted" else None
    until = time_from(ends_at, as_at) if ends_at else ""
    return Reason(cap.because, cap.state, cap.origin, until)


def _strictest_first(cap: Cap) -> tuple[int, int, Decimal]:
    return (-cap.verdict.gravity, -STRICTNESS.index(cap.state), cap.line_m)


def _not_behind_a_barrier(caps: list[Cap]) -> Iterator[Cap]:
    """Yield what is met on the way in, up to and with the outermost barrier that stands."""
    beyond = Decimal("Infinity")
    barrier_m = min((cap.line_m for cap in caps if cap.barrier), default=beyond)
    lapsed_m = min((cap.line_m for cap in caps if cap.lapsed), default=beyond)
    for cap in caps:
        if cap.line_m >= barrier_m and not cap.barrier:
            continue
        if cap.line_m < lapsed_m or cap.lapsed or cap.verdict is Verdict.NO_ENTRY:
            yield cap


def _outbye(
    facts: HeadingFacts, caps: list[Cap], line_m: Decimal, accepted: Iterable[RoundFact]
) -> State:
    if any(cap.state == "restricted" and cap.line_m < line_m for cap in caps):
        return "restricted"
    old_ground = [(Decimal(0), facts.last_row_m)] if facts.supported_before else []
    over = signed_stretches((it for it in accepted if it.over_old), facts.face_allowance_m)
    not_known = bool(without(old_ground, over)) or any(cap.state == "not known" for cap in caps)
    return "not known" if not_known else "entry allowed"


def _until(strictest: Cap | None, met: list[Cap]) -> datetime | None:
    """Give when the state changes by the clock: the first permission ends, the last wait does."""
    same = [cap.until for cap in met if strictest and cap.until and cap.state == strictest.state]
    if not same or strictest is None:
        return None
    return min(same) if strictest.state == "restricted" else max(same)
