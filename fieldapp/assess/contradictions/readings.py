"""Readings that leave no room for what stands there: rows, bolts, face, torque."""

from collections import Counter
from collections.abc import Iterator
from typing import Final

from fieldapp.assess.contradictions.contradiction import Contradiction, Stated, once_more
from fieldapp.assess.readings import face_readings
from fieldapp.assess.seen import Row, Seen
from fieldapp.assess.words import row_name, row_place
from schemas.bodies.round import RowSeen, SpacingSeen
from schemas.findings import Place, Verdict

AS_STANDARD: Final = 0.6
"""Bolts that stand nearer to each other than this share of the pattern are not as standard."""


def readings(stated: Stated) -> Iterator[Contradiction]:
    """Find lengths shorter than a plate is wide, and readings of what isn't in the round.

    Parameters
    ----------
    stated : Stated
        Rows, bolts and readings of the round. [m]

    Returns
    -------
    iterator of Contradiction
        Two things are said to stand at one place, or one that is not there was read. [m]

    Source
    ------
    Common practice, no source: the plates of two bolts can't lie in each other.
    """
    seen, asked = stated.seen, stated.bundle.round
    plate_m = plate_width_m(seen)
    yield from _rows(asked.rows, plate_m)
    yield from _face(seen, plate_m)
    for row in seen.rows:
        yield from _spacings(row)
    yield from _torques(seen)


def plate_width_m(seen: Seen) -> float:
    """Give how wide the smallest plate of the class is.

    Parameters
    ----------
    seen : Seen
        The class's bolts. [mm]

    Returns
    -------
    float
        Nearer to each other no two bolts stand. [m]

    Source
    ------
    Common practice, no source.
    """
    return min(float(bolt.plate_mm) for bolt in seen.support_class.bolts) / 1000


def _rows(rows: tuple[RowSeen, ...], plate_m: float) -> Iterator[Contradiction]:
    for number, times in Counter(row.number for row in rows).items():
        if times > 1:
            place = row_place(number, words=f"row {number} is written down {times} times")
            yield Contradiction("bolts_present", place, settle=f"look again at row {number}")
    for row in rows:
        ahead = row.ahead_of_row_before
        if ahead is not None and ahead.value_m < plate_m:
            before = row_name(row.number - 1)
            words = f"row {row.number} stands {ahead.value_m} m ahead of {before}"
            yield Contradiction(
                "row_spacing",
                row_place(row.number, words=f"{words}: no room for two rows"),
                settle=f"measure again how far row {row.number} is ahead of {before}",
                verdict=once_more(again=ahead.again),
            )


def _face(seen: Seen, plate_m: float) -> Iterator[Contradiction]:
    for where, reading in face_readings(seen.round).items():
        if reading.value_m < plate_m / 2:
            words = f"{reading.value_m} m leaves no room for the plates of the last row"
            yield Contradiction(
                "last_row_to_face",
                Place(words=f"{words}: {seen.round.ends_at}, {where}"),
                settle=f"measure again from the last row to {seen.round.ends_at}, {where}",
                verdict=once_more(again=reading.again),
            )


def _spacings(row: Row) -> Iterator[Contradiction]:
    for one in row.spacings:
        if not _is_of(row, one):
            yield _spacing(row, one, "no two bolts of this row", Verdict.NOT_LOOKED_AT)
    for one in row.taped:
        if float(one.reading.value_m) < AS_STANDARD * _apart_m(row, one):
            why = f"{one.reading.value_m} m is not as standard, and no place was marked"
            yield _spacing(row, one, why, once_more(again=one.reading.again))


def _is_of(row: Row, one: SpacingSeen) -> bool:
    last = max(one.from_position, one.to_position)
    return last <= len(row.demanded.s_m) and one.from_position != one.to_position


def _spacing(row: Row, one: SpacingSeen, why: str, verdict: Verdict) -> Contradiction:
    words = f"{row.name}, bolt {one.from_position} to {one.to_position}: {why}"
    place = row_place(row.number, words=words)
    settle = f"tape a spacing of {row.name} again"
    return Contradiction("bolt_spacing", place, settle, verdict)


def _apart_m(row: Row, one: SpacingSeen) -> float:
    """Give how far two bolts are apart by where they were marked, or by the pattern."""
    bolts = row.bolts.positions
    return abs(bolts[one.to_position - 1].s_m - bolts[one.from_position - 1].s_m)


def _torques(seen: Seen) -> Iterator[Contradiction]:
    bolts = sum(len(row.demanded.s_m) for row in seen.rows)
    for number in sorted({one.bolt for one in seen.round.torques if one.bolt > bolts}):
        words = f"bolt {number} was read for torque, in a round of {bolts} bolts"
        settle = "find the bolt that was read, and how many rows there are"
        yield Contradiction("torque", Place(words=words), settle, Verdict.NOT_LOOKED_AT)
