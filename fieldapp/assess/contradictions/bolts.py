"""Bolts that were marked one by one: each is one bolt, at one place, of a row that has it."""

from collections import Counter
from collections.abc import Iterator
from decimal import Decimal
from itertools import pairwise

from fieldapp.assess.bolts_seen import Bolt
from fieldapp.assess.contradictions.contradiction import Contradiction, Stated
from fieldapp.assess.contradictions.readings import plate_width_m
from fieldapp.assess.seen import Row, Seen
from fieldapp.assess.words import row_place
from schemas.bodies.round import BoltSeen
from schemas.findings import Verdict
from schemas.numbers import text


def bolts(stated: Stated) -> Iterator[Contradiction]:
    """Compare what was marked of each bolt with its row, its neighbours and the drive.

    Parameters
    ----------
    stated : Stated
        Rows, and bolts as they were marked. [various]

    Returns
    -------
    iterator of Contradiction
        A mark that no bolt of the row can have. [-]

    Source
    ------
    Common practice, no source.
    """
    for row in stated.seen.all_rows:
        for words in _contradicted(row, stated.seen):
            yield Contradiction(
                "bolts_present" if row.number > 0 else "old_rows",
                row_place(row.number, words=f"{row.name}, {words}"),
                settle=f"look at {row.name} again, and mark each bolt where it stands",
                verdict=Verdict.NOT_LOOKED_AT,
            )


def _contradicted(row: Row, seen: Seen) -> Iterator[str]:
    yield from _not_of_this_row(row)
    yield from _below_the_floor(row, row.profile.floor_s_m)
    yield from _at_one_place(row, plate_width_m(seen))
    yield from _angles(row.marks, seen.rules.angle_at_most_deg)


def _not_of_this_row(row: Row) -> Iterator[str]:
    """Find positions that the row doesn't have, and those that were said to be two things."""
    marked = Counter(mark.position for mark in _one_each(row) if mark.position is not None)
    looked = Counter(spot.position for spot in row.spots)
    places = len(row.demanded.s_m)
    for position in sorted(marked | looked):
        if position > places:
            yield f"bolt {position}: it has {places}"
        elif max(marked[position], looked[position]) > 1:
            yield f"bolt {position}: marked twice"


def _one_each(row: Row) -> list[BoltSeen]:
    """Leave out a hole that was given up where the bolt beside it is marked as well."""
    beside = {mark.position for mark in row.marks if mark.beside}
    return [it for it in row.marks if it.state != "blocked hole" or it.position not in beside]


def _below_the_floor(row: Row, floor_m: tuple[float, float]) -> Iterator[str]:
    left, right = floor_m
    for mark in row.marks:
        if mark.s_m is not None and not left <= float(mark.s_m) <= right:
            yield f"a bolt {text(mark.s_m)} m from the crown: below the floor"


def _at_one_place(row: Row, plate_m: float) -> Iterator[str]:
    """Find bolts that were measured nearer to each other than a plate is wide, or crossed."""
    there = [bolt for bolt in row.bolts.positions if bolt.is_there]
    extra = sorted(row.bolts.extra, key=lambda bolt: bolt.s_m)
    for left, right in (*pairwise(there), *pairwise(extra)):
        if _is_measured(left, right) and right.s_m - left.s_m < plate_m:
            yield f"{_named(left)} and {_named(right)} stand at one place or crossed"
    for bolt in extra:
        if any(abs(bolt.s_m - other.s_m) < plate_m for other in there):
            yield f"{_named(bolt)} stands where another bolt does"


def _is_measured(left: Bolt, right: Bolt) -> bool:
    return "assumed" not in (left.method, right.method)


def _named(bolt: Bolt) -> str:
    if bolt.position is None:
        return f"the extra bolt at {bolt.s_m:.2f} m"
    return f"bolt {bolt.position}"


def _angles(marks: tuple[BoltSeen, ...], at_most_deg: Decimal) -> Iterator[str]:
    for mark in marks:
        within = mark.angle_deg is not None and mark.angle_deg <= at_most_deg
        if mark.angle_over_limit and within:
            yield f"bolt {mark.position}: angle over the limit, and {mark.angle_deg}° within it"
