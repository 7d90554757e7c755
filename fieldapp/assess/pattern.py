"""The positions that a standard demands: how many in a row, where, and in which zone.

Rows are numbered from the joint to the face, positions 1..n from the left looking toward
the face. A staggered pattern goes on across the joint from the last row of the round before.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction

from fieldapp.assess.profile.profile import SupportedLine


class Zone(StrEnum):
    """The part of the rock that a bolt is in, looking toward the face."""

    LEFT_WALL = "left wall"
    LEFT_SHOULDER = "left shoulder"
    BACK = "back"
    RIGHT_SHOULDER = "right shoulder"
    RIGHT_WALL = "right wall"


@dataclass(frozen=True)
class ZoneBorders:
    """Where the zones meet, as distances from the crown [m]."""

    left_springline_s_m: float
    left_shoulder_s_m: float
    right_shoulder_s_m: float
    right_springline_s_m: float


@dataclass(frozen=True)
class Pattern:
    """What the standard says about spacing. `on_sheet` is the count of a full row."""

    staggered: bool
    spacing_m: Decimal
    row_spacing_m: Decimal
    tolerance_m: Decimal
    on_sheet: int


@dataclass(frozen=True)
class LastOldRow:
    """The last row of the round before; `offset` if it had one bolt fewer than a full row."""

    chainage_m: float
    offset: bool


@dataclass(frozen=True)
class DemandedRow:
    """One row of demanded positions [m]."""

    number: int
    chainage_m: float
    offset: bool
    s_m: tuple[float, ...]


def bolts_in_row(line_m: Decimal, spacing_m: Decimal, tolerance_m: Decimal, on_sheet: int) -> int:
    """Count the bolts that a full row demands on the line as it was measured.

    Parameters
    ----------
    line_m : Decimal
        Length of the supported line along the rock. [m]
    spacing_m : Decimal
        Bolt spacing within the row. [m]
    tolerance_m : Decimal
        How much more a single spacing may be. [m]
    on_sheet : int
        Count printed on the standard's sheet. [-]

    Returns
    -------
    int
        The larger of the sheet's count and ⌈P/(s + tolerance)⌉ + 1. [-]

    Raises
    ------
    ValueError
        A spacing that is not positive, or a negative line; one of nothing, to the millimetre,
        demands what the sheet says.

    Source
    ------
    Common practice, no source. Reckoned in fractions: 8.4/1.2 in binary floats demands one
    bolt too many.
    """
    widest = Fraction(spacing_m) + Fraction(tolerance_m)
    if widest <= 0 or line_m < 0:
        raise ValueError(f"no row of bolts {widest} m apart on {line_m} m")
    return max(on_sheet, math.ceil(Fraction(line_m) / widest) + 1)


def positions_s_m(line: SupportedLine, full_row: int, *, offset: bool) -> tuple[float, ...]:
    """Place the bolts of one row evenly on its line.

    Parameters
    ----------
    line : SupportedLine
        The two ends of the row. [m]
    full_row : int
        Bolts in a full row, at both ends. [-]
    offset : bool
        An offset row has one fewer, its lowest bolts half a spacing higher. [-]

    Returns
    -------
    tuple of float
        Distances from the crown, from the left. [m]

    Raises
    ------
    ValueError
        Fewer than two bolts in a full row.

    Source
    ------
    Common practice, no source.
    """
    if full_row < 2:  # noqa: PLR2004 (a bolt at either end)
        raise ValueError(f"a full row of {full_row} has no two ends")
    spaces = full_row - 1
    # Measured from either end, so that a mirrored line gives exactly mirrored positions.
    halves = range(1, 2 * spaces, 2) if offset else range(0, 2 * spaces + 1, 2)
    return tuple(
        (line.left_s_m * (2 * spaces - half) + line.right_s_m * half) / (2 * spaces)
        for half in halves
    )


def demanded_rows(
    pattern: Pattern, lines: Sequence[SupportedLine], joint: LastOldRow | None, start_m: float
) -> tuple[DemandedRow, ...]:
    """Lay out the rows of a round.

    Parameters
    ----------
    pattern : Pattern
        Spacings and kind of pattern. [m]
    lines : sequence of SupportedLine
        The line to support in row 1, 2, … as measured. [m]
    joint : LastOldRow or None
        Last row of the round before; None at the start of a drive. [m]
    start_m : float
        Chainage of row 1 where there is no row before it. [m]

    Returns
    -------
    tuple of DemandedRow
        Row 1 is nearest the joint; row 1 of a new drive is a full row. [m]

    Source
    ------
    Common practice, no source.
    """
    first_m = start_m if joint is None else joint.chainage_m + float(pattern.row_spacing_m)
    first_offset = pattern.staggered and joint is not None and not joint.offset
    rows = []
    for index, line in enumerate(lines):
        offset = pattern.staggered and (first_offset != bool(index % 2))
        full = bolts_in_row(
            Decimal(repr(line.length_m)).quantize(Decimal("0.001")),
            pattern.spacing_m,
            pattern.tolerance_m,
            pattern.on_sheet,
        )
        rows.append(
            DemandedRow(
                number=index + 1,
                chainage_m=first_m + index * float(pattern.row_spacing_m),
                offset=offset,
                s_m=positions_s_m(line, full, offset=offset),
            )
        )
    return tuple(rows)


def zone_of(s_m: float, borders: ZoneBorders) -> Zone:
    """Say which zone a place is in.

    Parameters
    ----------
    s_m : float
        Distance along the rock from the crown. [m]
    borders : ZoneBorders
        Where the zones meet. [m]

    Returns
    -------
    Zone
        On a border, the zone nearer the crown: it is the stricter one. [-]

    Source
    ------
    Common practice, no source.
    """
    if s_m < borders.left_springline_s_m:
        return Zone.LEFT_WALL
    if s_m > borders.right_springline_s_m:
        return Zone.RIGHT_WALL
    if s_m < borders.left_shoulder_s_m:
        return Zone.LEFT_SHOULDER
    if s_m > borders.right_shoulder_s_m:
        return Zone.RIGHT_SHOULDER
    return Zone.BACK
