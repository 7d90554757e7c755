"""A round on the way to its sign-off: the fold of its touches.

`RoundWork` never changes: each touch gives the next one. What is on disk is the list of
touches; this is what it means.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import datetime
from decimal import Decimal
from functools import cached_property, reduce
from itertools import accumulate

from fieldapp.assess.demanded import class_before, rows_demanded
from fieldapp.assess.pattern import DemandedRow
from fieldapp.assess.seen import Row, Seen, seen_in
from fieldapp.work.known import Known
from fieldapp.work.touches import AnyTouch, RowsPlanned, Undone
from schemas.bodies.deviation import Deviation
from schemas.bodies.event import Event
from schemas.bodies.heading import Heading
from schemas.bodies.round import Round
from schemas.bundle import Bundle
from schemas.standard import Standard, SupportClass


@dataclass(frozen=True)
class RoundWork:
    """One round as it stands: what it began as, and every touch since, in order."""

    round_id: str
    draft_id: str
    """What its touches are kept under: a round looked at again has a draft of its own."""
    heading: Heading
    standard: Standard
    began: Round
    """The round before the first touch."""
    touches: tuple[AnyTouch, ...] = ()
    previous: Round | None = None
    previous_standard: Standard | None = None
    """What the round before was judged by, where that is another revision."""
    parents: tuple[str, ...] = ()
    """Revisions that this work will supersede, when the round is looked at again."""
    deviations: tuple[Deviation, ...] = ()
    shaken_by: tuple[Known[Event], ...] = ()
    """What shook the heading, as long as nobody has inspected after it."""
    standard_line: str | None = None
    """The line of the standard's entry, as it was written; None where it is none of a ledger."""

    @cached_property
    def standing(self) -> tuple[AnyTouch, ...]:
        """The touches that have not been taken back."""
        return still_standing(self.touches)

    @cached_property
    def seen(self) -> Round:
        """The round as the standing touches leave it."""
        return reduce(_onto, self.standing, self.began)

    @cached_property
    def before_rows_changed(self) -> tuple[Round, ...]:
        """The round as it was before each change of its number of rows that stands."""
        if not any(isinstance(touch, RowsPlanned) for touch in self.standing):
            return ()
        states = accumulate(self.standing, _onto, initial=self.began)
        return tuple(
            before
            for before, touch in zip(states, self.standing, strict=False)
            if isinstance(touch, RowsPlanned) and touch.rows != before.rows_planned
        )

    @cached_property
    def support_class(self) -> SupportClass:
        """The class that this round is judged by.

        Raises
        ------
        ValueError
            The standard has no such class: a bug, because a round isn't begun without one.
        """
        found = self.standard.support_class(self.began.support_class)
        if found is None:
            raise ValueError(f"no class {self.began.support_class} in {self.standard.name}")
        return found

    @cached_property
    def classes(self) -> tuple[SupportClass, ...]:
        """The classes that this round is judged by, in the order of its ground domains."""
        second = self.seen.second_domain
        found = self.standard.support_class(second.support_class) if second else None
        return (self.support_class,) if found is None else (self.support_class, found)

    def class_of(self, number: int) -> SupportClass:
        """Give the class of the ground that a row stands in."""
        return self.classes[self.bolted[number - 1].domain]

    @cached_property
    def demanded(self) -> tuple[DemandedRow, ...]:
        """The rows as the classes of their ground demand them."""
        if len(self.classes) == 1:
            return rows_demanded(self.support_class, self.seen)
        return tuple(row.demanded for row in self.bolted)

    @cached_property
    def bolted(self) -> tuple[Row, ...]:
        """The rows of the round with their bolts, as an assessment sees them."""
        return self._assessed.rows

    def old_class(self, chainage_m: Decimal) -> SupportClass:
        """Give the class that an old row was put in by."""
        return class_before(self.bundle(self.began.started_at), chainage_m)[1]

    def row_at(self, chainage_m: Decimal) -> Row:
        """Give the row, old or new, that a place lies by."""
        return self._assessed.row_at(chainage_m)

    @cached_property
    def _assessed(self) -> Seen:
        return seen_in(self.bundle(self.began.started_at))

    @property
    def can_undo(self) -> bool:
        """Whether a touch is left to take back."""
        return bool(self.standing)

    def touched(self, touch: AnyTouch) -> "RoundWork":
        """Give the work after one more touch."""
        return replace(self, touches=(*self.touches, touch))

    def bundle(self, as_at: datetime) -> Bundle:
        """Give everything that an assessment of this round needs."""
        return Bundle(
            heading=self.heading,
            standard=self.standard,
            standard_line=self.standard_line,
            previous_round=self.previous,
            previous_standard=self.previous_standard,
            round_id=self.round_id,
            round=self.seen,
            as_at=as_at,
            shaken_by=tuple(it.by_chainages_of(self.began.chained_at) for it in self.shaken_by),
            deviations=self.deviations,
        )


def _onto(seen: Round, touch: AnyTouch) -> Round:
    return touch.onto(seen)


def still_standing(touches: Iterable[AnyTouch]) -> tuple[AnyTouch, ...]:
    """Give the touches that no later `Undone` has taken back."""
    standing: list[AnyTouch] = []
    for touch in touches:
        if not isinstance(touch, Undone):
            standing.append(touch)
        elif standing:
            standing.pop()
    return tuple(standing)
