"""What is known about entry in one heading: rounds, events, notices, as plain facts."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from decimal import Decimal

from fieldapp.assess.bolt_tests.failed_support import FailedTest
from schemas.bodies.entry_notice import EntryNotice
from schemas.bodies.event import Event
from schemas.bodies.intersection import CableStep
from schemas.bodies.rehab import RehabState
from schemas.bodies.round import named
from schemas.bodies.sign_off import Decision
from schemas.findings import Finding
from schemas.rehab_rules import Holds


@dataclass(frozen=True)
class BatchInDoubt:
    """A batch that a round used and that somebody has put in doubt."""

    label: str
    reason: str
    decide_by: datetime | None
    kept: bool = False
    """An engineer has decided that it stays in doubt."""


@dataclass(frozen=True)
class Granted:
    """A deviation that a sign-off stands on: what departs from the standard and where."""

    what: str
    """"bolt spacing, row 3"."""
    ends_at: datetime


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
    deviations: tuple[Granted, ...] = ()
    """Those under which it was accepted."""
    in_dispute: bool = False
    """Sign-offs or revisions of one round stand side by side."""
    looked_at_again: bool = False
    """Somebody on this tablet is changing what was signed."""
    not_believed: tuple[str, ...] = ()
    """Why sign-offs of it count as none."""
    batches: tuple[str, ...] = ()
    """Labels of the batches that it used."""
    face_m: Decimal | None = None
    """Where the face was known to be once it was recorded; over old support, the row inbye."""
    torn_at_m: Decimal | None = None
    """Within it, as it was read, chainages were measured anew: from there on only, so that its
    rows would no longer be where they were taped from its joint."""
    over_old: bool = False
    """It is new support over old: no step of the heading's advance."""
    after: tuple[str, ...] = ()
    """Ids of the strippings that it answers."""

    @property
    def name(self) -> str:
        """As people say it."""
        return named(self.number, over_old=self.over_old)

    @property
    def same(self) -> tuple[bool, int]:
        """What it is recorded as: two rounds that share it are two accounts of one."""
        return self.over_old, self.number


@dataclass(frozen=True)
class EventFact:
    """One event, and when somebody inspected after it."""

    event_id: str
    event: Event
    inspected_at: datetime | None = None
    face_before_m: Decimal | None = None
    """Where the face was before a firing, as far as is known."""
    doubt_m: Decimal = Decimal(0)
    """It may lie so far inbye of there: nobody knows whether old marks were read or new ones."""

    def is_over(self, as_at: datetime) -> bool:
        """Whether the exclusion time has passed *and* somebody has inspected since."""
        if self.inspected_at is None or as_at < self.event.excluded_until:
            return False
        return self.inspected_at >= self.event.excluded_until


@dataclass(frozen=True)
class NoticeFact:
    """One notice that stands."""

    notice: EntryNotice
    doubt_m: Decimal = Decimal(0)
    """Its place may lie so far inbye of there, like an event's."""


@dataclass(frozen=True)
class DamageFact:
    """One damage that no repair has restored, and what entry beneath it is."""

    damage_id: str
    from_m: Decimal
    holds: Holds
    because: str
    """"torn mesh at 1350.4 m, right shoulder, P2"."""
    rank: int = 0
    """Its place among the standard's priorities, 0 the most urgent; -1: nobody has decided."""
    openings: int = 0
    """How large a hole was counted in the mesh."""


@dataclass(frozen=True)
class RepairFact:
    """One repair, and how far it is."""

    rehab_id: str
    from_m: Decimal
    to_m: Decimal
    state: RehabState
    crew: str
    barrier_m: Decimal | None = None
    """Where its barrier stands, where that was told as a chainage."""


@dataclass(frozen=True)
class CablesFact:
    """The cables of an intersection, as far as entry depends on them."""

    thing: str
    from_m: Decimal
    to_m: Decimal
    cables: int
    """How many are demanded."""
    done: Mapping[CableStep, int] = field(default_factory=dict)
    """How many were drilled, grouted and plated, as it was said last."""
    grouted_at: datetime | None = None
    """When the last of them was, by any account."""
    plated_at: datetime | None = None
    stands_plated: bool = False
    """Whether nothing was stated since they were plated."""
    refused: str = ""
    """Why somebody who looked at them did not let them count; nothing where nobody refused."""
    cures_h: Decimal | None = None
    """None: no standard here says how long their grout cures."""
    findings: tuple[Finding, ...] = ()
    """What the standard of its day says of its outline, bolts and cables."""


@dataclass(frozen=True)
class HeadingFacts:
    """Everything known about entry in one heading."""

    last_row_m: Decimal
    """Where support ended when the heading was entered."""
    face_m: Decimal
    fired_from_m: Decimal
    """Where the face was before anything was fired that is recorded."""
    face_allowance_m: Decimal
    """How far the face may stand from the last row of an accepted round."""
    two_rows_m: Decimal
    """How far back the last two rows reach: a firing ends their sign-off."""
    rounds: tuple[RoundFact, ...] = ()
    events: tuple[EventFact, ...] = ()
    notices: tuple[NoticeFact, ...] = ()
    """Current ones; lifted ones are left out."""
    damages: tuple[DamageFact, ...] = ()
    """Those that hold entry."""
    repairs: tuple[RepairFact, ...] = ()
    cables: tuple[CablesFact, ...] = ()
    """Of intersections."""
    newest_at: datetime | None = None
    """When the newest entry was made that this tablet knows: a clock set back behind it
    prolongs no permission."""
    unread: tuple[str, ...] = ()
    """What was said of the heading that only a newer version of this program can read."""
    not_whole: bool = False
    """Whether something that was stated of the heading may be missing on this tablet."""
    revoked: bool = False
    """Whether the office has revoked the tablet that asks: others don't go by what it accepted."""
    batches_in_doubt: tuple[BatchInDoubt, ...] = ()
    """Those of the mine, whether a round here used them or not."""
    failed_tests: tuple[FailedTest, ...] = ()
    """Of support here, that nobody has recorded as damage yet."""
    supported_before: bool = False
    other_way_out: bool = False
    face_read_m: Decimal | None = None
    """Where the last round read the face, where it is known to be inbye of that."""

    def no_earlier_than_known(self, as_at: datetime) -> datetime:
        """Give the time by which permissions end, also where the clock was set back."""
        return as_at if self.newest_at is None else max(as_at, self.newest_at)
