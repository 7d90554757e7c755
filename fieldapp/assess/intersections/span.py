"""The span of an intersection: the widest circle of back that no wall holds."""

from collections.abc import Sequence
from typing import Final

import shapely

from schemas.bodies.intersection import Corner

LEAST_CORNERS: Final = 3
LEAST_M2: Final = 0.01
NEAR_ENOUGH_M: Final = 0.0005
"""The circle's centre is looked for until no other could give more than this."""


def why_no_outline(corners: Sequence[Corner]) -> str:
    """Say why corners are no outline of an opening.

    Parameters
    ----------
    corners : sequence of Corner
        One after the other, either way round. [m]

    Returns
    -------
    str
        The reason; nothing where they are one. [-]

    Source
    ------
    Common practice, no source.
    """
    points = _points(corners)
    different = len(set(points))
    if different < LEAST_CORNERS:
        return f"it has {different} different corners, and an opening has three at least"
    if shapely.MultiPoint(points).convex_hull.area == 0:
        return "its corners lie on one line, so that it has no area"
    outline = shapely.Polygon(points)
    if not outline.is_valid:
        return "its outline crosses or touches itself"
    return "it has no area" if outline.area < LEAST_M2 else ""


def span_m(corners: Sequence[Corner]) -> float:
    """Find the span of an opening: the diameter of the largest circle within its outline.

    Parameters
    ----------
    corners : sequence of Corner
        Of an outline (`why_no_outline` has nothing against it). [m]

    Returns
    -------
    float
        Right to a millimetre, never too great. [m]

    Source
    ------
    Common practice, no source: an intersection's span is that of its inscribed circle.
    """
    return span_circle_m(corners)[1]


def span_circle_m(corners: Sequence[Corner]) -> tuple[tuple[float, float], float]:
    """Find the largest circle within an outline.

    Parameters
    ----------
    corners : sequence of Corner
        Of an outline (`why_no_outline` has nothing against it). [m]

    Returns
    -------
    ((x, y), diameter)
        Its centre, and how wide it is, right to a millimetre and never too great. [m]

    Source
    ------
    As `span_m`.
    """
    outline = shapely.Polygon(_points(corners))
    radius = shapely.maximum_inscribed_circle(outline, tolerance=NEAR_ENOUGH_M)
    x, y = shapely.get_coordinates(radius)[0].tolist()
    return (x, y), 2 * float(shapely.length(radius))


def _points(corners: Sequence[Corner]) -> list[tuple[float, float]]:
    return [(float(it.x_m), float(it.y_m)) for it in corners]
