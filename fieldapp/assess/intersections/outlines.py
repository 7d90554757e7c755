"""Outlines of the usual intersections, drawn from the widths of their drives."""

from typing import Final, Literal

Shape = Literal["turnout left", "turnout right", "cross", "widening"]
SHAPES: Final[tuple[Shape, ...]] = ("turnout left", "turnout right", "cross", "widening")

Places = tuple[tuple[float, float], ...]


def outline_m(shape: Shape, width_m: float, other_m: float) -> Places:
    """Draw an intersection where a second drive opens square to the heading.

    Parameters
    ----------
    shape : Shape
        To which side the second drive opens; a widening has none. [-]
    width_m : float
        Of the heading; of a widening all of it. [m]
    other_m : float
        Of the second drive; how long a widening is. [m]

    Returns
    -------
    tuple of (x, y)
        Its corners, x from where the second drive opens. Each drive belongs to it for half its
        own width beyond the mouth. [m]

    Source
    ------
    Common practice, no source.
    """
    half, out = width_m / 2, other_m / 2
    if shape == "widening":
        return ((0, -half), (other_m, -half), (other_m, half), (0, half))
    start, end = -half, other_m + half
    left: Places = ((other_m, -half), (other_m, -half - out), (0, -half - out), (0, -half))
    right: Places = ((0, half), (0, half + out), (other_m, half + out), (other_m, half))
    left = left if shape in ("turnout left", "cross") else ()
    right = right if shape in ("turnout right", "cross") else ()
    return ((start, -half), (start, half), *right, (end, half), (end, -half), *left)
