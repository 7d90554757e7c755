"""Bolts per square metre, and spacings from bolt to bolt."""


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
