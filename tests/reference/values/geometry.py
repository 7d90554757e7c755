"""Profiles, patterns and the gaps that they leave."""

import math
from decimal import Decimal

from shapely import LineString, Polygon

from fieldapp.assess.gaps.of_pattern import intact_gap_m, missing_gap_m, one_missing_gap_m
from fieldapp.assess.pattern import bolts_in_row
from fieldapp.assess.profile.overbreak import overbreak_percent
from fieldapp.assess.profile.profile import (
    SupportedLine,
    across_step_m,
    step_between_m,
    supported_line,
)
from fieldapp.assess.profile.shapes import (
    designed_arch_profile,
    flat_back_profile,
    measured_arch_profile,
    surveyed_profile,
)
from tests.reference.value import Source, Value

SEGMENT = Source("Circular segment, any book of geometry: r = (W²/4 + a²)/(2a)", "own")
FLAT = Source("Geometry: w + 2h − 4c + πc, w·h − 2(1 − π/4)c²", "own")
SHAPELY = Source("shapely: length of a LineString, area of a Polygon", "own")
STEP = Source("Hausdorff distance of two outlines; Pythagoras' theorem", "own")
AREA = Source("Share of the area beyond design", "common practice")
COUNTING = Source("Counting: ⌈P/s⌉ + 1 with a bolt at both ends", "own")
CIRCLE = Source("Circle through the bolts around the place: geometry", "own")

ARCHES = (
    ((5.0, 3.0, 2.0), 2.5625, 6.916, 12.916, 22.455),
    ((5.0, 2.5, 2.5), 2.5, 7.853982, 12.853982, 22.317477),
    ((5.0, 3.0, 2.5), 2.5, 7.853982, 13.853982, 24.817477),
    ((4.0, 2.0, 2.0), 2.0, 6.283185, 10.283185, 14.283185),
    ((5.0, 4.0, 1.0), 3.625, 5.517342, 13.517342, 23.437683),
    ((6.0, 4.5, 0.75), 6.375, 6.246956, 15.246956, 30.037172),
)
BACKS = (
    (4.5, 4.5, 0.0, 13.5, 20.25),
    (5.0, 5.0, 0.0, 15.0, 25.0),
    (5.5, 5.5, 0.0, 16.5, 30.25),
    (4.5, 4.8, 0.0, 14.1, 21.6),
    (4.5, 4.5, 1.0, 12.642, 19.821),
    (5.0, 5.0, 0.5, 14.570796, 24.892699),
    (5.0, 5.0, 1.0, 14.141593, 24.570796),
)
ROWS = (
    ("9.916", "1.2", 10),
    ("9.916", "1.5", 8),
    ("10.726", "1.5", 9),
    ("10.726", "1.2", 10),
    ("15.0", "1.2", 14),
    ("12.853982", "1.0", 14),
    ("9.916", "1.4", 9),
    ("8.4", "1.2", 8),
)
SURVEYS = (
    ((-2.5, 0.0), (-2.5, 3.5), (-1.6, 4.8), (0.0, 5.3), (1.7, 4.9), (2.5, 3.8), (2.5, 0.0)),
    ((-2.7, 0.0), (-2.4, 1.4), (-2.9, 3.1), (-0.4, 5.4), (0.3, 5.1), (2.6, 3.3), (2.5, 0.0)),
)
GAPS = (
    ("intact, square", 1.84, 1.40, 1.20, False),
    ("intact, staggered", 1.61, 1.40, 1.20, True),
    ("+ 0.1 m, square", 1.98, 1.50, 1.30, False),
    ("+ 0.1 m, staggered", 1.73, 1.50, 1.30, True),
    ("+ 0.2 m, square", 2.13, 1.60, 1.40, False),
    ("intact, square", 1.697, 1.20, 1.20, False),
    ("intact, staggered", 1.5, 1.20, 1.20, True),
    ("rows drifted apart to 1.71 m, staggered", 2.00, 1.40, 1.71, True),
)
MISSING = (
    ("two in the row", ((0, 0), (0, 1)), 2.78),
    ("two along the drive", ((0, 0), (1, 0)), 3.05),
    ("two diagonal", ((0, 0), (1, 1)), 2.43),
)


def _arches() -> tuple[Value, ...]:
    found: list[Value] = []
    for drawn, radius, arc, line, area in ARCHES:
        arch = "arch {:g} m wide, walls {:g} m, rise {:g} m".format(*drawn)
        build, near = designed_arch_profile, 5e-4
        found += [
            SEGMENT.says(f"{arch}: radius", radius, "m", build, *drawn, within=near,
                         take=lambda it: it.radius_m),
            SEGMENT.says(f"{arch}: arc", arc, "m", build, *drawn, within=near,
                         take=lambda it: it.arc_m),
            SEGMENT.says(f"{arch}: walls and back", line, "m", build, *drawn, within=near,
                         take=lambda it: it.line_m),
            SEGMENT.says(f"{arch}: area", area, "m²", build, *drawn, within=near,
                         take=lambda it: it.area_m2),
        ]  # fmt: skip
    return tuple(found)


def _backs() -> tuple[Value, ...]:
    found: list[Value] = []
    for width, height, corner, line, area in BACKS:
        back = f"flat back {width:g} × {height:g} m, corners {corner:g} m"
        drawn, near = (width, height, corner), 5e-4
        found += [
            FLAT.says(f"{back}: walls and back", line, "m", flat_back_profile, *drawn, within=near,
                      take=lambda it: it.line_m),
            FLAT.says(f"{back}: area", area, "m²", flat_back_profile, *drawn, within=near,
                      take=lambda it: it.area_m2),
        ]  # fmt: skip
    return tuple(found)


def _surveys() -> tuple[Value, ...]:
    found: list[Value] = []
    for number, points in enumerate(SURVEYS, start=1):
        drive = f"surveyed drive {number}, {len(points)} points"
        found += [
            SHAPELY.says(f"{drive}: walls and back", LineString(points).length, "m",
                         surveyed_profile, points, 3.0, within=1e-9, take=lambda it: it.line_m),
            SHAPELY.says(f"{drive}: area", Polygon(points).area, "m²", surveyed_profile, points,
                         3.0, within=1e-9, take=lambda it: it.area_m2),
        ]  # fmt: skip
    return tuple(found)


VALUES: tuple[Value, ...] = (
    *_arches(),
    SEGMENT.says("arch beyond a semicircle, 5.0 m wide, rise 2.6 m: arc", 8.06, "m",
                 measured_arch_profile, 5.0, 2.5, 2.6, within=0.005, take=lambda it: it.arc_m),
    SEGMENT.says("arch 5.0 m wide, rise 2.0 m: half angle", 77.32, "°", designed_arch_profile,
                 5.0, 3.0, 2.0, within=0.005, take=lambda it: math.degrees(it.half_angle_rad)),
    *_backs(),
    *_surveys(),
    AREA.says("overbreak, 22.455 m² designed, 24.355 m² measured", 8.46, "%", overbreak_percent,
              22.455, 24.355, within=0.005),
    STEP.says("rows 0.9 m apart, the back 0.45 m higher: along the rock", 1.00623059, "m",
              across_step_m, 0.9, 0.45, within=1e-8),
    STEP.says("flat back 4.5 m high beside one 4.95 m high: the step", 0.45, "m", step_between_m,
              (flat_back_profile(5.0, 4.5), SupportedLine(-4.0, 4.0)),
              (flat_back_profile(5.0, 4.95), SupportedLine(-4.45, 4.45)), within=1e-9),
    STEP.says("half circle of 2.5 m beside one of 3.1 m: the step", 0.6, "m", step_between_m,
              (measured_arch_profile(5.0, 3.0, 2.5), SupportedLine(-3.9, 3.9)),
              (measured_arch_profile(6.2, 3.0, 3.1), SupportedLine(-4.8, 4.8)), within=5e-4),
    SEGMENT.says("supported down to 1.5 m above the floor: line", 9.916, "m", supported_line,
                 designed_arch_profile(5.0, 3.0, 2.0), 1.5, 1.5, within=5e-4,
                 take=lambda it: it.length_m),
    *(
        COUNTING.says(f"bolts on {line} m at {spacing} m", bolts, "bolts", bolts_in_row,
                      Decimal(line), Decimal(spacing), Decimal(0), 2)
        for line, spacing, bolts in ROWS
    ),
    *(
        CIRCLE.says(f"largest gap, {case}, {s} × {b} m", gap, "m", intact_gap_m, s, b,
                    staggered=staggered, within=0.006)
        for case, gap, s, b, staggered in GAPS
    ),
    CIRCLE.says("largest gap, one missing, square 1.4 × 1.2 m", 2.43, "m", one_missing_gap_m,
                1.4, 1.2, staggered=False, within=0.005),
    CIRCLE.says("largest gap, one missing, staggered 1.4 × 1.2 m", 2.78, "m", one_missing_gap_m,
                1.4, 1.2, staggered=True, within=0.005),
    *(
        CIRCLE.says(f"largest gap, {case}, square 1.4 × 1.2 m", gap, "m", missing_gap_m, 1.4, 1.2,
                    missing, staggered=False, within=0.005)
        for case, missing, gap in MISSING
    ),
)  # fmt: skip
