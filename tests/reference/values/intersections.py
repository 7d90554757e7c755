"""Spans of intersections: the largest circle within an outline, by closed forms."""

from decimal import Decimal
from math import sqrt

import numpy as np

from fieldapp.assess.intersections.plan import area_doubt_m2, area_m2, places_m, positions_m
from fieldapp.assess.intersections.span import span_m
from schemas.bodies.intersection import Corner
from schemas.intersection_rules import PlanPattern
from tests.reference.value import Source, Value

SIDES = Source("A rectangle's largest circle is as wide as its shorter side", "own")
TRIANGLE = Source("An equilateral triangle's is a/√3 wide", "own")
ONE_CORNER = Source("Square bend: two far walls and one corner, r = w·√2 / (1 + √2)", "own")
TEE = Source("T of two drives: far wall and two corners, (w/2)² + (w − r)² = r², 5·w/4", "own")
CROSS = Source("Cross of two drives: four corners, w·√2", "own")

LATTICE = Source("Positions spread evenly in a rectangle: ⌈length / spacing⌉ each way", "own")
SHOELACE = Source("Area of an L: two rectangles; its doubt by moving each corner", "own")

NEAR_M = 0.001


def outline(*corners: tuple[float, float]) -> tuple[Corner, ...]:
    return tuple(
        Corner(x_m=Decimal(str(round(x, 6))), y_m=Decimal(str(round(y, 6)))) for x, y in corners
    )


def tee(w: float) -> tuple[Corner, ...]:
    """Give a drive along the heading and one that leaves it square to the right."""
    return outline(
        (-10, 0), (10 + w, 0), (10 + w, w), (w, w), (w, 10 + w), (0, 10 + w), (0, w), (-10, w)
    )


def pattern(s: str, b: str) -> PlanPattern:
    return PlanPattern(
        kind="square", bolt_spacing_m=Decimal(s), row_spacing_m=Decimal(b),
        tolerance_m=Decimal(0), because="closed form",
    )  # fmt: skip


def cross(w: float) -> tuple[Corner, ...]:
    return outline(
        (-10, 0), (0, 0), (0, -10), (w, -10), (w, 0), (10 + w, 0),
        (10 + w, w), (w, w), (w, 10 + w), (0, 10 + w), (0, w), (-10, w),
    )  # fmt: skip


def bend(w: float) -> tuple[Corner, ...]:
    """Give a drive that turns square: an L."""
    return outline((0, 0), (20, 0), (20, w), (w, w), (w, 20), (0, 20))


VALUES: tuple[Value, ...] = (
    *(
        SIDES.says(
            f"rectangle of {w} × {h} m", min(w, h), "m", span_m,
            outline((0, 0), (w, 0), (w, h), (0, h)), within=NEAR_M,
        )
        for w, h in ((8.0, 5.0), (4.5, 9.0), (6.0, 6.0))
    ),
    *(
        TRIANGLE.says(
            f"equilateral triangle of {a} m", a / sqrt(3), "m", span_m,
            outline((0, 0), (a, 0), (a / 2, a * sqrt(3) / 2)), within=NEAR_M,
        )
        for a in (6.0, 10.0)
    ),
    *(
        ONE_CORNER.says(
            f"square bend of a {w} m drive", 2 * w * sqrt(2) / (1 + sqrt(2)), "m", span_m,
            bend(w), within=NEAR_M,
        )
        for w in (5.0,)
    ),
    *(
        TEE.says(f"T of two {w} m drives", 1.25 * w, "m", span_m, tee(w), within=NEAR_M)
        for w in (5.0, 4.5)
    ),
    *(
        LATTICE.says(
            f"bolts in {w} × {h} m, {s} by {b} m", count, "bolts", positions_m,
            outline((0, 0), (w, 0), (w, h), (0, h)), pattern(s, b), take=len,
        )
        for w, h, s, b, count in ((8.0, 8.0, "1.4", "1.2", 42), (6.0, 5.6, "1.4", "1.2", 20))
    ),
    SHOELACE.says(
        "an L of a 5 m drive", 20 * 5 + 15 * 5, "m²", area_m2,
        np.array(places_m(bend(5.0))), within=1e-9,
    ),
    SHOELACE.says(
        "doubt of a square's area, u 0.1 m", 0.1 / 2 * sqrt(4 * 2 * 8**2), "m²", area_doubt_m2,
        np.array([(0, 0), (8, 0), (8, 8), (0, 8)]), 0.1, within=1e-9,
    ),
    CROSS.says("cross of two 5 m drives", 5 * sqrt(2), "m", span_m, cross(5.0), within=NEAR_M),
)  # fmt: skip
