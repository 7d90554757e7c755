"""How many bolts of which type were put in by rounds, and when ground, batch or crew changed."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from statistics import mean

from fieldapp.assess.demanded import line_of
from fieldapp.assess.profile.profile import ProfileRefused
from fieldapp.assess.readings import last_row_m
from schemas.bodies.round import Round, RowSeen
from schemas.bolt_test_rules import Occasion
from schemas.numbers import STEP_M3, rounded
from schemas.standard import SupportClass


@dataclass(frozen=True)
class PutIn:
    """One accepted round, as far as tests of its bolts depend on it."""

    round_id: str
    number: int
    bolts: Mapping[str, int]
    """By bolt type."""
    from_m: Decimal
    to_m: Decimal
    """The joint and the last row."""
    per_row: int
    """Bolts in a full row."""
    at: datetime
    """When it was bolted; where nobody said, when it was begun."""
    ground: str | None
    batches: frozenset[str]
    crew: str | None
    sprayed_at: datetime | None = None
    sprayed_m3: Decimal = Decimal(0)
    """In place: rock supported, advance and thickness; what rebounds is not counted."""

    def holds(self, chainage_m: Decimal) -> bool:
        """Whether a place is one of this round's."""
        return self.from_m < chainage_m <= self.to_m


@dataclass(frozen=True)
class Change:
    """The first round after a change of ground, batch or crew."""

    occasion: Occasion
    first: PutIn
    words: str
    """"batch RES-0118 for the first time"."""


def put_in(round_id: str, seen: Round, demanded: SupportClass) -> PutIn:
    """Gather what tests need to know of a round.

    Parameters
    ----------
    round_id : str
        Its id. [-]
    seen : Round
        As it was accepted. [m]
    demanded : SupportClass
        The class that it was put up by. [m]

    Returns
    -------
    PutIn
        A bolt that nobody said the type of counts as the class's first. [m]

    Source
    ------
    Common practice, no source.
    """
    bolter = seen.bolter
    usual = bolter.bolt_type or demanded.bolts[0].code
    bolts: Counter[str] = Counter()
    for row in seen.rows:
        bolts += _bolts_of(row, usual)
    return PutIn(
        round_id=round_id,
        number=seen.number,
        bolts=dict(bolts),
        from_m=seen.joint_m,
        to_m=last_row_m(seen),
        per_row=demanded.pattern.bolts_per_row,
        at=bolter.bolting_finished_at or seen.started_at,
        ground=seen.ground.condition if seen.ground else None,
        batches=frozenset(bolter.batches or ()),
        crew=bolter.crew,
        sprayed_at=seen.shotcrete.sprayed_at,
        sprayed_m3=_sprayed_m3(seen, demanded),
    )


def changes(rounds: Sequence[PutIn]) -> tuple[Change, ...]:
    """Find the rounds that were the first after a change.

    Parameters
    ----------
    rounds : sequence of PutIn
        Of one heading, in the order of their joints. [m]

    Returns
    -------
    tuple of Change
        The first round of a heading is none; what nobody said changes nothing. [-]

    Source
    ------
    Common practice, no source.
    """
    return tuple(_changes(rounds))


def _changes(rounds: Sequence[PutIn]) -> Iterator[Change]:
    ground: str | None = None
    crews: set[str] = set()
    batches: set[str] = set()
    for it in rounds:
        if it.ground is not None:
            if ground not in (None, it.ground):
                yield Change("change of ground", it, f"ground {it.ground}, was {ground}")
            ground = it.ground
        new = sorted(it.batches - batches)
        if new and batches:
            yield Change("change of batch", it, f"batch {', '.join(new)} for the first time")
        batches |= it.batches
        if it.crew is not None:
            if crews and it.crew not in crews:
                yield Change("new crew", it, f"{it.crew} for the first time")
            crews.add(it.crew)


def _sprayed_m3(seen: Round, demanded: SupportClass) -> Decimal:
    """Give how much shotcrete lies on a round: as thick as it was probed, or as is demanded."""
    if seen.shotcrete.sprayed_at is None or demanded.shotcrete is None:
        return Decimal(0)
    probed = seen.shotcrete.thickness_mm
    thick_mm = mean(probed) if probed else demanded.shotcrete.thickness_mm
    try:
        rock_m = Decimal(str(line_of(demanded, seen.profile).length_m))
    except ProfileRefused:
        return Decimal(0)
    advance_m = max(Decimal(0), last_row_m(seen) - seen.joint_m)
    return rounded(rock_m * advance_m * thick_mm / 1000, STEP_M3)


def _bolts_of(row: RowSeen, usual: str) -> Counter[str]:
    """Count the bolts of a row: those marked as another type, and the rest of what was counted."""
    there = [it for it in row.bolts if it.state == "present"]
    other = Counter(it.bolt_type for it in there if it.bolt_type not in (None, usual))
    marked = len(there) - other.total()
    counted = row.counted.plates - other.total() if row.counted is not None else 0
    return Counter({usual: max(0, marked, counted)}) + other
