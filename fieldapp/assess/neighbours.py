"""Neighbouring demanded positions without a counting bolt.

The largest circle can't see two diagonal neighbours missing, so they are looked for by
themselves: along the row, along the drive and across, on either side of the joint.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

_DIAGONAL = 1.25  # spacings: a diagonal of a square pattern is 1, the next but one staggered 1.5


@dataclass(frozen=True)
class RowOfPositions:
    """The demanded positions of one row, from the left, and which have a counting bolt."""

    s_m: tuple[float, ...]
    counts: tuple[bool, ...]


Position = tuple[int, int]
"""Index of the row and index in the row, both from 0."""


def neighbours_without_bolt(rows: Sequence[RowOfPositions]) -> tuple[tuple[Position, ...], ...]:
    """Find groups of two or more neighbouring positions without a counting bolt.

    Parameters
    ----------
    rows : sequence of RowOfPositions
        In order along the drive, the old rows before the joint among them. [m]

    Returns
    -------
    tuple of groups
        Each a tuple of (row, position), both counted from 0, in order. [-]

    Source
    ------
    Common practice, no source.
    """
    return tuple(group for group in groups_without_bolt(rows) if len(group) > 1)


def groups_without_bolt(rows: Sequence[RowOfPositions]) -> tuple[tuple[Position, ...], ...]:
    """Find every position without a bolt that counts, neighbours together.

    Parameters
    ----------
    rows : sequence of RowOfPositions
        In order along the drive. [m]

    Returns
    -------
    tuple of groups
        As `neighbours_without_bolt`, and those of one position. [-]

    Source
    ------
    Common practice, no source.
    """
    left = {(r, p) for r, row in enumerate(rows) for p, ok in enumerate(row.counts) if not ok}
    groups = []
    while left:
        group = _grown_from(min(left), left, rows)
        left -= group
        groups.append(tuple(sorted(group)))
    return tuple(groups)


def _grown_from(
    first: Position, without: set[Position], rows: Sequence[RowOfPositions]
) -> set[Position]:
    group = {first}
    todo = [first]
    while todo:
        found = {n for n in _neighbours(todo.pop(), rows) if n in without} - group
        group |= found
        todo += found
    return group


def _neighbours(position: Position, rows: Sequence[RowOfPositions]) -> Iterator[Position]:
    r, p = position
    yield from ((r, other) for other in (p - 1, p + 1) if 0 <= other < len(rows[r].s_m))
    for beside in (r - 1, r + 1):
        if 0 <= beside < len(rows):
            reach = _DIAGONAL * max(_spacing_m(rows[r]), _spacing_m(rows[beside]))
            for other, s_m in enumerate(rows[beside].s_m):
                if abs(s_m - rows[r].s_m[p]) <= reach:
                    yield beside, other


def _spacing_m(row: RowOfPositions) -> float:
    spaces = len(row.s_m) - 1
    return (row.s_m[-1] - row.s_m[0]) / spaces if spaces > 0 else 0.0
