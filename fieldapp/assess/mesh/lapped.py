"""Where placed sheets lap: which are neighbours, how wide each lap is, what was read of it.

Neighbours along the drive lap across it; those side by side lap along it. What three sheets
cover at once is a lap of the two that lap more of each other, so that the corner where four
sheets meet is none.
"""

from collections.abc import Callable, Iterator, Sequence, Set
from dataclasses import dataclass, replace
from decimal import Decimal
from itertools import combinations
from typing import Final

from fieldapp.assess.demanded import laps_demanded
from fieldapp.assess.mesh.placed import Box, Placed, old_sheets, placed_sheets, rectangle, union_of
from fieldapp.assess.seen import Seen
from fieldapp.assess.uncertainty import combined_uncertainty
from fieldapp.assess.words import mesh_place
from schemas.bodies.round import LapSeen, Method, SheetLap
from schemas.findings import Place
from schemas.numbers import SAID_M, rounded

_SEAM_M: Final = Decimal("0.001")
"""Sheets that only touch leave a seam: it is looked at as wide as this to each side."""


@dataclass(frozen=True)
class Lap:
    """Two neighbouring sheets, `first` outbye of the other or left of it."""

    first: Placed | None
    """None: the old mesh, of which nobody placed a sheet."""
    second: Placed
    across: bool
    """It lies across the drive: the sheets follow each other along it."""
    number: int | None
    """Of a lap across the drive, from the joint: 1 is the one with the old mesh."""
    width_m: Decimal | None
    """0 where the sheets leave a gap; None where nobody knows where the old mesh ends."""
    u_m: Decimal
    edges_read: bool
    """Whether both edges were read that make its width."""
    box: Box
    """What both cover; the bare rock between them where they leave a gap."""
    read: tuple[SheetLap, ...]
    """As it was counted or taped."""

    @property
    def is_read(self) -> bool:
        """Whether its width is a reading."""
        return any(map(is_read, self.read)) or (self.width_m is not None and self.edges_read)

    @property
    def words(self) -> str:
        """As people say it: the question about a lap across the drive ends in its number."""
        if self.first is None:
            return f"sheet {self.second.number} and the old mesh, lap 1"
        which = f"{self.first.name} and {self.second.name}"
        return which if self.number is None else f"{which}, lap {self.number}"

    @property
    def place(self) -> Place:
        """Its middle, in the words of the lap alone."""
        x_m, s_m = self.box.middle_m
        at = (max(rounded(x_m, SAID_M), Decimal(0)), rounded(s_m, SAID_M))
        return mesh_place(at, "lap").model_copy(update={"words": self.words})


def laps_of(seen: Seen) -> tuple[Lap, ...]:
    """Find the laps between the sheets of a round, and with those of the round before.

    Parameters
    ----------
    seen : Seen
        The sheets that were placed. [m]

    Returns
    -------
    tuple of Lap
        From the joint inbye; none where no sheet was placed. [m]

    Source
    ------
    Geometry of rectangles; numbering is common practice, no source.
    """
    new, old = placed_sheets(seen), old_sheets(seen)
    if not new:
        return ()
    found = [*_over(seen, (*old, *new)), *_apart(seen, (*old, *new))]
    number = _courses(new, found)
    numbered = [replace(it, number=number[id(it.second)] if it.across else None) for it in found]
    met = {id(it.second) for it in numbered if it.across}
    with_old = [_with_old_mesh(seen, it) for it in new if not old and id(it) not in met]
    return tuple(sorted((*with_old, *numbered), key=lambda it: (it.box.middle_m, it.words)))


def is_read(lap: LapSeen | SheetLap) -> bool:
    """Say whether the width of a lap was counted or taped.

    Parameters
    ----------
    lap : LapSeen or SheetLap
        What was written down of it. [mm]

    Returns
    -------
    bool
        False where only what holds it was looked at. [-]

    Source
    ------
    Common practice, no source.
    """
    return lap.openings is not None or lap.least_mm is not None


def method_of(seen: Seen, lap: Lap) -> Method:
    """Say how the width of a lap is known.

    Parameters
    ----------
    seen : Seen
        The round: how sure each way of reading is. [m]
    lap : Lap
        Between two placed sheets. [m]

    Returns
    -------
    Method
        As it was counted or taped, else the less sure of both its edges. [-]

    Source
    ------
    Common practice, no source.
    """
    by = [it.method for it in lap.read if is_read(it)]
    if not by and lap.first is None:
        return lap.second.methods["outbye"]
    if not by and lap.first is not None:
        by = [*_methods(lap.first, lap.second, across=lap.across)]
    return max(by, key=lambda method: seen.doubts_m[method])


def laps_not_known(
    seen: Seen, of_sheets: Sequence[Lap], known: Set[int], is_known: Callable[[Lap], bool]
) -> list[int]:
    """Say which laps across the drive nobody answered for.

    Parameters
    ----------
    seen : Seen
        The round: its rows demand so many laps. [-]
    of_sheets : sequence of Lap
        Those between placed sheets. [m]
    known : set of int
        Numbers that were answered from wall to wall. [-]
    is_known : callable
        Whether a lap of two sheets answers for itself. [-]

    Returns
    -------
    list of int
        A number that sheets have is answered once each of its laps is. [-]

    Source
    ------
    Common practice, no source.
    """
    by_number: dict[int, list[Lap]] = {}
    for lap in of_sheets:
        if lap.number is not None:
            by_number.setdefault(lap.number, []).append(lap)
    wanted = laps_demanded(seen.support_class, seen.round.rows_planned)
    numbers = sorted({*range(1, wanted + 1), *by_number})
    return [
        number
        for number in numbers
        if number not in known
        and not (number in by_number and all(map(is_known, by_number[number])))
    ]


def _over(seen: Seen, sheets: Sequence[Placed]) -> Iterator[Lap]:
    """Find what two sheets cover both."""
    laps = [
        _lap(seen, (one, other))
        for one, other in combinations(sheets, 2)
        if not (one.old and other.old) and one.box.common(other.box).is_sound
    ]
    for lap in laps:
        if not any(_is_within(lap, third, laps) for third in sheets):
            yield lap


def _is_within(lap: Lap, third: Placed, laps: Sequence[Lap]) -> bool:
    """Whether a third sheet lies under all of a lap, and laps both sheets by more."""
    if id(third) in _ids(lap) or not third.box.holds(lap.box):
        return False
    beside = [it for it in laps if id(third) in _ids(it) and _ids(it) & _ids(lap)]
    return len(beside) > 1 and all(
        (it.width_m or 0) >= (lap.width_m or 0) and it.box.area_m2 > lap.box.area_m2
        for it in beside
    )


def _ids(lap: Lap) -> set[int]:
    return {id(lap.first), id(lap.second)}


def _apart(seen: Seen, sheets: Sequence[Placed]) -> Iterator[Lap]:
    """Find neighbours with bare rock between them: a lap of nothing."""
    for one, other in combinations(sheets, 2):
        between = one.box.common(other.box)
        along = between.from_m >= between.to_m
        if along == (between.left_s_m >= between.right_s_m) or (one.old and other.old):
            continue  # they lap, or face each other at a corner only
        gap = _with_seams(between, along=along)
        third = (it.box for it in sheets if it is not one and it is not other)
        others = [box for box in third if box.common(gap).is_sound]
        if _is_bare(gap, others, along=along):
            first, second = _ordered(one, other, across=along)
            yield Lap(
                first=first,
                second=second,
                across=along,
                number=None,
                width_m=Decimal(0),
                u_m=_u_m(seen, first, second, across=along),
                edges_read=True,
                box=gap,
                read=_read(first, second),
            )


def _with_seams(between: Box, *, along: bool) -> Box:
    """Give the rock between two sheets, and a seam's width of each."""
    if along:
        return replace(between, from_m=between.to_m - _SEAM_M, to_m=between.from_m + _SEAM_M)
    return replace(
        between, left_s_m=between.right_s_m - _SEAM_M, right_s_m=between.left_s_m + _SEAM_M
    )


def _is_bare(gap: Box, others: Sequence[Box], *, along: bool) -> bool:
    """Whether bare rock reaches from one sheet to the other, and no third one lies over it."""
    if not others or any(it.holds(gap) for it in others):
        return not others
    import shapely  # loaded where sheets are placed, and nowhere else

    whole = rectangle(gap)
    bare = shapely.difference(whole, union_of(others))
    start, end = (0, 2) if along else (1, 3)
    reach = whole.bounds[end] - whole.bounds[start]
    parts = (it for it in shapely.get_parts(bare) if it.area > 0)
    return any(it.bounds[end] - it.bounds[start] > reach - float(_SEAM_M) / 2 for it in parts)


def _ordered(one: Placed, other: Placed, *, across: bool) -> tuple[Placed, Placed]:
    def start(sheet: Placed) -> tuple[bool, Decimal]:
        return not sheet.old, sheet.box.from_m if across else sheet.box.left_s_m

    return (one, other) if start(one) <= start(other) else (other, one)


def _lap(seen: Seen, pair: tuple[Placed, Placed]) -> Lap:
    """Give the lap of two sheets that cover some rock both."""
    one, other = pair
    both = one.box.common(other.box)
    share_along = (both.to_m - both.from_m) / min(_length(one), _length(other))
    share_across = (both.right_s_m - both.left_s_m) / min(_breadth(one), _breadth(other))
    across = share_along < share_across or one.old != other.old
    first, second = _ordered(one, other, across=across)
    width_m = both.to_m - both.from_m if across else both.right_s_m - both.left_s_m
    return Lap(
        first=first,
        second=second,
        across=across,
        number=None,
        width_m=width_m,
        u_m=_u_m(seen, first, second, across=across),
        edges_read=all(it != "assumed" for it in _methods(first, second, across=across)),
        box=both,
        read=_read(first, second),
    )


def _length(sheet: Placed) -> Decimal:
    return sheet.box.to_m - sheet.box.from_m


def _breadth(sheet: Placed) -> Decimal:
    return sheet.box.right_s_m - sheet.box.left_s_m


def _methods(first: Placed, second: Placed, *, across: bool) -> tuple[Method, Method]:
    if across:
        return first.methods["inbye"], second.methods["outbye"]
    return first.methods["right"], second.methods["left"]


def _u_m(seen: Seen, first: Placed, second: Placed, *, across: bool) -> Decimal:
    both = _methods(first, second, across=across)
    u_m = combined_uncertainty([(1.0, float(seen.doubts_m[method])) for method in both])
    return Decimal(repr(u_m))


def _read(first: Placed | None, second: Placed) -> tuple[SheetLap, ...]:
    """Give what was read of a lap, whichever of its sheets it was written down with."""
    with_first = 0 if first is None or first.old else first.number
    own = [lap for lap in second.seen.laps if lap.with_sheet == with_first]
    others = [] if first is None or first.old else first.seen.laps
    return (*own, *(lap for lap in others if lap.with_sheet == second.number))


def _courses(new: Sequence[Placed], laps: Sequence[Lap]) -> dict[int, int]:
    """Give each sheet its number along the drive: 1 at the joint, one more for each lap."""
    course: dict[int, int] = {}
    for sheet in new:
        before = [course.get(id(it.first), 0) for it in laps if it.across and it.second is sheet]
        course[id(sheet)] = 1 + max(before, default=0)
    return course


def _with_old_mesh(seen: Seen, sheet: Placed) -> Lap:
    """Give the lap with old mesh of which nobody placed a sheet: where it ends is not known.

    It ends no farther inbye than mesh may stand out past the plates of the last old row.
    """
    mesh = seen.support_class.mesh
    ends_m = seen.round.joint_m + (mesh.beyond_plates_at_most_mm / 1000 if mesh else 0)
    bare = sheet.box.from_m > ends_m
    between = (ends_m, sheet.box.from_m) if bare else (sheet.box.from_m, ends_m)
    return Lap(
        first=None,
        second=sheet,
        across=True,
        number=1,
        width_m=Decimal(0) if bare else None,
        u_m=seen.doubts_m[sheet.methods["outbye"]],
        edges_read=bare,
        box=replace(sheet.box, from_m=between[0], to_m=between[1]),
        read=_read(None, sheet),
    )
