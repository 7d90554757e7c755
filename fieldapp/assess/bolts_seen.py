"""The bolts of one row: what was counted and what was marked, put to the demanded positions."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from fieldapp.assess.bolt_rules import Rules
from fieldapp.assess.counting import (
    GONE,
    Fault,
    faults_of,
    holds_when_loose,
    is_seated,
)
from fieldapp.assess.pattern import DemandedRow, ZoneBorders, zone_of
from fieldapp.assess.words import spot
from schemas.bodies.round import BoltSeen, CountedRow, Method
from schemas.findings import Place

BESIDE_M = 0.3
"""How far a bolt may be from a position that was counted and still be the one counted."""


@dataclass(frozen=True)
class Bolt:
    """One demanded position and the bolt that stands for it, or a bolt that stands for none.

    Where nobody looked it is taken to be as demanded, so that what is wrong already shows;
    that nobody looked is said by every check that needs it.
    """

    row: int
    position: int | None
    chainage_m: float
    s_m: float
    zone: str
    looked_at: bool
    faults: tuple[Fault, ...]
    seated: bool | None
    holds_when_loose: bool
    method: Method
    mark: BoltSeen | None = None

    @property
    def counts(self) -> bool:
        """Whether nothing is known that keeps it from counting."""
        return not self.faults

    @property
    def plated(self) -> bool:
        """Counts, and its plate is not known to be loose."""
        return self.counts and self.seated is not False

    @property
    def anchored(self) -> bool:
        """Holds rock, if need be without its plate."""
        return self.counts and (self.seated is not False or self.holds_when_loose)

    @property
    def is_there(self) -> bool:
        """Whether there is a bolt at all that one could measure to."""
        return not self.faults or self.faults[0] not in GONE

    @property
    def place(self) -> Place:
        """Where it is, in words and figures."""
        return spot(self.row, (self.chainage_m, self.s_m), self.zone, self.position)


@dataclass(frozen=True)
class RowMarks:
    """What was touched for one row."""

    counted: CountedRow | None
    marks: tuple[BoltSeen, ...]
    old: bool = False


@dataclass(frozen=True)
class BoltsOfRow:
    """The bolts of one row. `unplaced` of the demanded ones are missing, nobody said where."""

    positions: tuple[Bolt, ...]
    extra: tuple[Bolt, ...]
    unplaced: int


def bolts_of_row(
    demanded: DemandedRow, seen: RowMarks, rules: Rules, borders: ZoneBorders
) -> BoltsOfRow:
    """Put what was seen of a row to its demanded positions.

    Parameters
    ----------
    demanded : DemandedRow
        Where bolts are demanded, and the row's chainage as read. [m]
    seen : RowMarks
        Plates counted and bolts marked. [various]
    rules : Rules
        What makes a bolt count. [various]
    borders : ZoneBorders
        Where the zones meet. [m]

    Returns
    -------
    BoltsOfRow
        One bolt for each position, from the left; then the extra ones. [m]

    Source
    ------
    Common practice, no source; matching as in `fieldapp.assess.matching`.
    """
    marks: dict[int, BoltSeen] = {}
    for mark in seen.marks:
        if mark.position is not None and mark.position <= len(demanded.s_m):
            marks[mark.position] = mark
    loose = [m for m in seen.marks if m.s_m is not None and m.state == "present"]
    loose = [m for m in loose if m.position is None or m.position > len(demanded.s_m)]
    extra = _stand_in(marks, loose, demanded, counted=seen.counted is not None)
    positions = tuple(
        _bolt(demanded, seen, rules, borders, (number, marks.get(number)))
        for number in range(1, len(demanded.s_m) + 1)
    )
    beside = tuple(_bolt(demanded, seen, rules, borders, (None, mark)) for mark in extra)
    return BoltsOfRow(positions, beside, _unplaced(len(demanded.s_m), marks, seen))


def _stand_in(
    marks: dict[int, BoltSeen], loose: Sequence[BoltSeen], row: DemandedRow, *, counted: bool
) -> list[BoltSeen]:
    """Let bolts marked by place alone stand for positions without one; give those left over."""
    spacing = abs(row.s_m[-1] - row.s_m[0]) / max(1, len(row.s_m) - 1)
    numbers = range(1, len(row.s_m) + 1)
    without = [n for n in numbers if (n in marks and marks[n].state != "present")]
    unmarked = [n for n in numbers if n not in marks]
    left = _matched_into(marks, loose, row, (without, spacing / 2))
    return _matched_into(marks, left, row, (unmarked, BESIDE_M if counted else spacing / 2))


def _matched_into(
    marks: dict[int, BoltSeen],
    loose: Sequence[BoltSeen],
    row: DemandedRow,
    free: tuple[Sequence[int], float],
) -> list[BoltSeen]:
    numbers, cut_off_m = free
    if not loose or not numbers:
        return list(loose)
    from fieldapp.assess.matching import matched  # numpy comes with it, where it is needed

    seen = [(0.0, float(mark.s_m or 0)) for mark in loose]
    demanded = [(0.0, row.s_m[number - 1]) for number in numbers]
    matching = matched(seen, demanded, cut_off_m, cut_off_m)
    for one in matching.positions:
        if one.seen is not None:
            marks[numbers[one.demanded]] = loose[one.seen]
    return [loose[index] for index in matching.extra]


def _bolt(
    row: DemandedRow,
    seen: RowMarks,
    rules: Rules,
    borders: ZoneBorders,
    at: tuple[int | None, BoltSeen | None],
) -> Bolt:
    position, mark = at
    measured = mark is not None and mark.s_m is not None
    s_m = float(mark.s_m) if mark is not None and mark.s_m is not None else 0.0
    if not measured and position is not None:
        s_m = row.s_m[position - 1]
    zone = str(zone_of(s_m, borders))
    return Bolt(
        row=row.number,
        position=position,
        chainage_m=row.chainage_m,
        s_m=s_m,
        zone=zone,
        looked_at=seen.counted is not None or mark is not None,
        faults=faults_of(mark, zone, rules),
        seated=is_seated(mark, rules, row_counted=seen.counted is not None),
        holds_when_loose=holds_when_loose(mark, zone, rules, old=seen.old),
        method=mark.method if mark is not None and measured else "assumed",
        mark=mark,
    )


def _unplaced(demanded: int, marks: dict[int, BoltSeen], seen: RowMarks) -> int:
    """Count the plates that are fewer than the positions nobody marked as without one.

    A bolt beside a hole that was given up may have been counted as in place, or not.
    """
    if seen.counted is None:
        return 0
    given_up = {mark.position for mark in seen.marks if mark.state != "present"}
    without = sum(
        mark.beside or number in given_up or mark.plate in ("loose", "missing")
        for number, mark in marks.items()
    )
    return max(0, demanded - without - seen.counted.plates)


def with_plate(bolt: Bolt, *, seated: bool) -> Bolt:
    """Give the bolt with what a look at its plate showed; a loose plate stays loose.

    Parameters
    ----------
    bolt : Bolt
        As it was counted or marked. [-]
    seated : bool
        What the look showed. [-]

    Returns
    -------
    Bolt
        The stricter of both. [-]

    Source
    ------
    Common practice, no source.
    """
    return replace(bolt, seated=seated and bolt.seated is not False)
