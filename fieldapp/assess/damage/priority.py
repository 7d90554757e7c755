"""How soon a damage is repaired: looked up in the mine's own table, never reckoned.

Who saw what in which order stands in the observations themselves. The gravest that was ever
seen of a damage stands until somebody corrects it or an engineer decides.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Final, get_args

from fieldapp.assess.damage.beneath import Beneath, beneath
from fieldapp.assess.damage.growth import growth
from fieldapp.assess.damage.observed import Observation, in_order
from schemas.bodies.damage import Damage
from schemas.rehab_rules import Holds, MatrixCell, RehabPriority
from schemas.standard import Standard, SupportClass

_STRICTEST_FIRST: Final[tuple[Holds, ...]] = get_args(Holds)
NO_MATRIX: Final = "no matrix in this standard: the engineer decides"
NOT_JUDGED: Final = "severity not judged: the engineer decides"
UNDECIDED: Final = "nobody on foot until the engineer decides"
_DAY: Final = timedelta(days=1)


@dataclass(frozen=True)
class Ranked:
    """How soon a damage is repaired, what entry is beneath it until then, and why."""

    priority: str | None
    """Code of the standard; None where the engineer decides."""
    rank: int
    """Its place among the standard's priorities, 0 the most urgent; -1 where there is none."""
    holds: Holds
    entry: str
    """What entry is, in the words of the standard."""
    because: tuple[str, ...]
    """Severity, exposure, growth, limits, and how long it is overdue."""
    beneath: tuple[Beneath, ...] = ()
    due_at: datetime | None = None
    overdue: timedelta | None = None
    grown: bool = False

    @property
    def code(self) -> str:
        """The priority as it is said, "P?" where nobody has decided."""
        return self.priority or "P?"

    @property
    def escalated(self) -> bool:
        """Whether it should have been repaired by now."""
        return self.overdue is not None

    @property
    def measure_again(self) -> bool:
        """Whether a better reading might let entry go."""
        return any(it.measure_again for it in self.beneath)


def priority(
    seen: Sequence[Observation],
    standard: Standard | None,
    demanded: SupportClass | None,
    as_at: datetime,
) -> Ranked:
    """Rank one damage by everything that was seen of it.

    Parameters
    ----------
    seen : sequence of Observation
        Of one damage, in any order; at least one. [any]
    standard : Standard or None
        By which it is judged; None where none is in force. [any]
    demanded : SupportClass or None
        The class put up there: its limits on holes and bagging. [any]
    as_at : datetime
        The time for which it is asked. [UTC]

    Returns
    -------
    Ranked
        Priority, due date, what entry is, and every reason in words. [-]

    Source
    ------
    Common practice, no source: a look-up in the mine's own table of severity and exposure.
    """
    ordered = _since_the_decision(in_order(seen), standard)
    ranks = [_rank(ordered[: n + 1], standard) for n in range(len(ordered))]
    held = beneath(in_order(seen), demanded, standard.measuring if standard else None)
    rank = ranks[-1]
    step = standard.priorities[rank] if standard and rank >= 0 else None
    due_at = _due_at(ordered, ranks, standard)
    overdue = as_at - due_at if due_at is not None and as_at > due_at else None
    grown = growth(ordered, standard.growth if standard else None)
    because = (
        *_why(ordered, standard),
        *([grown.words] if grown else []),
        *(it.because for it in held),
        *([f"overdue by {_long(overdue)}, escalated"] if overdue is not None else []),
    )
    own = _holds(step)
    strictest = min((own, *(it.holds for it in held)), key=_STRICTEST_FIRST.index)
    return Ranked(
        priority=step.code if step else None,
        rank=rank,
        holds=strictest,
        entry=step.entry if step else UNDECIDED,
        because=because,
        beneath=held,
        due_at=due_at,
        overdue=overdue,
        grown=grown is not None,
    )


def urgency(ranked: Ranked) -> tuple[int, bool, bool, int, float]:
    """Give what damage is put in order by: who is kept away, overdue, worsening, priority, date.

    Ground that nobody may be beneath leads, then what nobody on foot may be, be it due tomorrow:
    a date that was missed for a loose plate must not push it onto the next page, where somebody
    who walks there reads it late.
    Among the rest what is overdue and what gets worse come first, whatever their priority.

    Parameters
    ----------
    ranked : Ranked
        As it was ranked. [any]

    Returns
    -------
    tuple
        Sorts the most urgent first. [-]

    Source
    ------
    Common practice, no source.
    """
    due = ranked.due_at.timestamp() if ranked.due_at else float("-inf")
    kept_away = _STRICTEST_FIRST.index(ranked.holds)
    return (kept_away, not ranked.escalated, not ranked.grown, ranked.rank, due)


def cell_of(damage: Damage, standard: Standard) -> MatrixCell | None:
    """Look up the place of the table for one observation.

    Parameters
    ----------
    damage : Damage
        As it was seen. [any]
    standard : Standard
        Whose table. [any]

    Returns
    -------
    MatrixCell or None
        Of the exposure stated; where nobody stated one, the most urgent for that severity. [-]

    Source
    ------
    Common practice, no source.
    """
    codes = [step.code for step in standard.priorities]
    known = [it for it in standard.rehab_matrix if it.priority in codes]
    cells = [it for it in known if it.severity == damage.severity]
    exposed = [it for it in cells if it.exposure == damage.exposure]
    return min(exposed or cells, key=lambda it: codes.index(it.priority), default=None)


def _since_the_decision(
    ordered: tuple[Observation, ...], standard: Standard | None
) -> tuple[Observation, ...]:
    """Leave out what an engineer knew when they decided."""
    decided = [n for n, it in enumerate(ordered) if _decided(it, standard) is not None]
    return ordered[decided[-1] :] if decided else ordered


def _decided(observation: Observation, standard: Standard | None) -> int | None:
    decided = observation.damage.decided
    if decided is None or not observation.by_engineer or standard is None:
        return None
    codes = [step.code for step in standard.priorities]
    return codes.index(decided.priority) if decided.priority in codes else None


def _rank(ordered: Sequence[Observation], standard: Standard | None) -> int:
    """Give the most urgent of what stands for each observation, raised where it grew."""
    if standard is None:
        return -1
    codes = [step.code for step in standard.priorities]
    ranks = [_decided(it, standard) for it in ordered]
    for place, it in enumerate(ordered):
        cell = cell_of(it.damage, standard)
        if ranks[place] is None and cell is not None:
            ranks[place] = codes.index(cell.priority)
    least = min((rank for rank in ranks if rank is not None), default=-1)
    rule = standard.growth
    grown = rule is not None and growth(ordered, rule) is not None
    return max(0, least - rule.raises) if rule and grown and least >= 0 else least


def _due_at(
    ordered: Sequence[Observation], ranks: Sequence[int], standard: Standard | None
) -> datetime | None:
    """Give the earliest of what any observation made it due by: another look delays nothing."""
    if standard is None:
        return None
    due = (
        it.damage.seen_at + standard.priorities[rank].due_days * _DAY
        for it, rank in zip(ordered, ranks, strict=True)
        if rank >= 0
    )
    return min(due, default=None)


def _holds(step: RehabPriority | None) -> Holds:
    """Give what entry is beneath it; restricted where nobody has said."""
    return "restricted" if step is None or step.holds is None else step.holds


def _why(ordered: Sequence[Observation], standard: Standard | None) -> tuple[str, ...]:
    if standard is None:
        return (NO_MATRIX,)
    decided = ordered[0].damage.decided
    if decided is not None and _decided(ordered[0], standard) is not None:
        by_engineer = f"{decided.priority}, decided by an engineer: {decided.because}"
        return (by_engineer, *_looked_up(ordered[1:], standard))
    nothing = NOT_JUDGED if standard.rehab_matrix else NO_MATRIX
    return _looked_up(ordered, standard) or (nothing,)


def _looked_up(ordered: Sequence[Observation], standard: Standard) -> tuple[str, ...]:
    """Say by which observation the table gives the most urgent priority."""
    codes = [step.code for step in standard.priorities]
    found = [(cell, it.damage) for it in ordered if (cell := cell_of(it.damage, standard))]
    if not found:
        return ()
    cell, damage = min(found, key=lambda it: codes.index(it[0].priority))
    severity = next((it for it in standard.severities if it.code == cell.severity), None)
    exposure = next((it for it in standard.exposures if it.code == damage.exposure), None)
    under = f"{exposure.code} {exposure.words}" if exposure else "exposure not stated"
    card = f"{severity.code} {severity.words}" if severity else cell.severity
    return (card, under, f"{cell.priority}: {cell.because}")


def _long(overdue: timedelta) -> str:
    days = overdue // _DAY
    return f"{days} day{'' if days == 1 else 's'}" if days else "less than a day"
