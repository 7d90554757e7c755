"""Bolts per square metre, and spacings from bolt to bolt."""

import math
from collections.abc import Sequence


def density_per_m2(bolts: float, area_m2: float) -> float:
    """Give the density of bolts on an area.

    Parameters
    ----------
    bolts : float
        Bolts on it; one on its edge counts half if the area goes on beyond. [-]
    area_m2 : float
        Area along the rock. [m2]

    Returns
    -------
    float
        Bolts per square metre. [1/m2]

    Raises
    ------
    ValueError
        An area that is not positive.

    Source
    ------
    Common practice, no source.
    """
    if area_m2 <= 0:
        raise ValueError(f"no density on {area_m2} m2")
    return bolts / area_m2


def pattern_density_per_m2(spacing_m: float, row_spacing_m: float) -> float:
    """Give the density of an endless pattern, square or staggered.

    Parameters
    ----------
    spacing_m : float
        Bolt spacing within the row. [m]
    row_spacing_m : float
        Row to row. [m]

    Returns
    -------
    float
        Bolts per square metre. [1/m2]

    Source
    ------
    Geometry: one bolt a cell, s·b.
    """
    return density_per_m2(1, spacing_m * row_spacing_m)


def dice_five_density_per_m2(cell_m: float) -> float:
    """Give the density of a dice-five pattern: a square of bolts with one in the middle.

    Parameters
    ----------
    cell_m : float
        Side of the square. [m]

    Returns
    -------
    float
        Bolts per square metre. [1/m2]

    Source
    ------
    Geometry: two bolts a cell.
    """
    return density_per_m2(2, cell_m * cell_m)


def nearest_spacings_m(bolts_m: Sequence[tuple[float, float]]) -> tuple[float, ...]:
    """Give each bolt's distance to its nearest neighbour.

    Parameters
    ----------
    bolts_m : sequence of (chainage, s)
        Two bolts or more. [m]

    Returns
    -------
    tuple of float
        In the order given. [m]

    Raises
    ------
    ValueError
        Fewer than two bolts.

    Source
    ------
    Geometry.
    """
    if len(bolts_m) < 2:  # noqa: PLR2004
        raise ValueError("one bolt has no neighbour")
    return tuple(
        min(math.dist(bolt, other) for m, other in enumerate(bolts_m) if m != n)
        for n, bolt in enumerate(bolts_m)
    )
