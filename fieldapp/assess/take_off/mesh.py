"""How much mesh an advance takes: sheets across and along, or strips cut from rolls and packs."""

import math
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from fieldapp.assess.laps import Sheet
from schemas.numbers import STEP_M2, rounded
from schemas.standard import Mesh


@dataclass(frozen=True)
class MeshNeeded:
    """The mesh of one round."""

    pieces: int
    """Sheets, or strips of the standard's width."""
    across: int
    """Sheets beside each other in a row; 1 strip goes all the way."""
    area_m2: Decimal
    strip: "Strip | None" = None
    """None: the class has sheets."""


@dataclass(frozen=True)
class Strip:
    """What is ordered where mesh comes in strips."""

    width_m: Decimal
    """Of a strip that meshes the whole advance alone."""
    length_m: Decimal
    longer_than_stock_m: Decimal
    """So much longer than a strip of the standard: lapped on, or ordered longer."""
    per_roll: int | None
    """Whole strips that a roll gives; None: the standard states no roll."""
    per_pack: int | None


def pieces_across(line_m: Decimal, sheet: Sheet) -> int:
    """Count the sheets beside each other that reach along a line.

    Parameters
    ----------
    line_m : Decimal
        Length of the supported line along the rock. [m]
    sheet : Sheet
        Its size along that line, and the lap. [m]

    Returns
    -------
    int
        ⌈(P − lap)/(w − lap)⌉, at least 1. [-]

    Source
    ------
    Geometry: n sheets reach n·w − (n − 1)·lap.
    """
    beyond_lap = Fraction(line_m) - Fraction(sheet.lap_m)
    return max(1, math.ceil(beyond_lap / Fraction(sheet.advance_m)))


def pieces_along(advance_m: Decimal, sheet: Sheet) -> int:
    """Count the sheets or strips behind each other that mesh an advance.

    Parameters
    ----------
    advance_m : Decimal
        From the edge of the old mesh on. [m]
    sheet : Sheet
        Its size along the drive, and the lap: the first one laps the old mesh. [m]

    Returns
    -------
    int
        ⌈advance/(w − lap)⌉, at least 1. [-]

    Source
    ------
    Geometry: each gets the mesh on by its size less the lap.
    """
    return max(1, math.ceil(Fraction(advance_m) / Fraction(sheet.advance_m)))


def strip_width_m(advance_m: Decimal, lap_m: Decimal, step_m: Decimal | None) -> Decimal:
    """Give the width to order, so that one strip meshes an advance.

    Parameters
    ----------
    advance_m : Decimal
        What it has to get on by. [m]
    lap_m : Decimal
        Over the mesh before it. [m]
    step_m : Decimal or None
        In steps of what widths are made; None: any. [m]

    Returns
    -------
    Decimal
        Advance and lap together, up to the next step. [m]

    Source
    ------
    Common practice, no source.
    """
    width_m = advance_m + lap_m
    if not step_m:
        return width_m
    return math.ceil(Fraction(width_m) / Fraction(step_m)) * step_m


def strips_from(length_m: Decimal, strip_m: Decimal, pieces: int | None, lap_m: Decimal) -> int:
    """Count the whole strips that a roll or a pack gives.

    Parameters
    ----------
    length_m : Decimal
        Length of the roll, or of a pack's strips together. [m]
    strip_m : Decimal
        Length of one strip as it is needed. [m]
    pieces : int or None
        Into how many strips a pack was cut; None: a roll. [-]
    lap_m : Decimal
        By how much pieces of a pack are lapped where they are too short. [m]

    Returns
    -------
    int
        0 where it is shorter than one strip. [-]

    Source
    ------
    Common practice, no source: a pack of three strips, 30 m in all, meshes two to three rounds.
    """
    if pieces is not None and strip_m * pieces <= length_m:
        return pieces
    joined_m = strip_m if pieces is None else strip_m + lap_m
    return math.floor(Fraction(length_m) / Fraction(joined_m))


def mesh_needed(mesh: Mesh, line_m: Decimal, advance_m: Decimal, lap_m: Decimal) -> MeshNeeded:
    """Give the mesh that a round takes.

    Parameters
    ----------
    mesh : Mesh
        As the class has it. [m]
    line_m : Decimal
        Length of the supported line along the rock. [m]
    advance_m : Decimal
        From the edge of the old mesh on. [m]
    lap_m : Decimal
        Over the mesh before, and beside. [m]

    Returns
    -------
    MeshNeeded
        Whole sheets, or strips and how they come. [various]

    Raises
    ------
    LapLargerThanSheet
        The lap leaves nothing to advance by.

    Source
    ------
    Common practice, no source.
    """
    along = pieces_along(advance_m, Sheet(mesh.along_drive_m, lap_m))
    if mesh.kind == "sheets of welded mesh":
        across = pieces_across(line_m, Sheet(mesh.across_m, lap_m))
        pieces = across * along
        return MeshNeeded(pieces, across, _area(pieces, mesh.along_drive_m, mesh.across_m))
    strip = _strip(mesh, line_m, advance_m, lap_m)
    is_cut = mesh.roll_length_m is not None or mesh.pack_length_m is not None
    length_m = strip.length_m if is_cut else max(strip.length_m, mesh.across_m)
    return MeshNeeded(along, 1, _area(along, mesh.along_drive_m, length_m), strip)


def _strip(mesh: Mesh, line_m: Decimal, advance_m: Decimal, lap_m: Decimal) -> Strip:
    length_m = line_m + 2 * (mesh.strip_tail_m or 0)
    roll_m, pack_m = mesh.roll_length_m, mesh.pack_length_m
    return Strip(
        width_m=strip_width_m(advance_m, lap_m, mesh.strip_width_step_m),
        length_m=length_m,
        longer_than_stock_m=max(Decimal(0), length_m - mesh.across_m),
        per_roll=None if roll_m is None else strips_from(roll_m, length_m, None, lap_m),
        per_pack=None
        if pack_m is None
        else strips_from(pack_m, length_m, mesh.strips_per_pack, lap_m),
    )


def _area(pieces: int, width_m: Decimal, length_m: Decimal) -> Decimal:
    return rounded(pieces * width_m * length_m, STEP_M2)
