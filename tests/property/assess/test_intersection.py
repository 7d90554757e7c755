"""Whatever the outline: the span is found, and no circle is wider than the opening."""

from datetime import UTC, datetime
from decimal import Decimal
from math import cos, pi, sin, sqrt
from typing import Any

import numpy as np
import shapely
from hypothesis import given
from hypothesis import strategies as st
from scipy.spatial.distance import cdist

from fieldapp.assess.intersections import Crossing, Done, intersection_findings, positions_m
from fieldapp.assess.intersections.span import span_m, why_no_outline
from schemas.bodies.intersection import Corner, Intersection, PlanBolt
from schemas.findings import Finding, Verdict
from schemas.intersection_rules import PlanPattern
from tests.standards import W3, changed

tenths = st.integers(-600, 600).map(lambda it: Decimal(it) / 10)
corners = st.builds(Corner, x_m=tenths, y_m=tenths)
plates = st.sampled_from(["seated", "seated", "seated", "loose", None])
bolts = st.builds(PlanBolt, x_m=tenths, y_m=tenths, method=st.just("tape"), plate=plates)


@st.composite
def around(draw: Any) -> list[Corner]:
    """Give an outline around a middle, as most openings are."""
    far_m = [it / 10 for it in draw(st.lists(st.integers(10, 300), min_size=3, max_size=12))]
    turn = 2 * pi / len(far_m)
    return [
        Corner(x_m=_said(it * cos(n * turn)), y_m=_said(it * sin(n * turn)))
        for n, it in enumerate(far_m)
    ]


def _said(value: float) -> Decimal:
    return Decimal(f"{value:.3f}")


@given(st.lists(corners, max_size=12) | around())
def test_a_span_is_never_wider_than_its_area_or_its_sides_allow(outline: list[Corner]) -> None:
    if why_no_outline(outline):
        return
    span = span_m(outline)
    shape = shapely.Polygon([(float(it.x_m), float(it.y_m)) for it in outline])
    x1, y1, x2, y2 = shape.bounds

    assert 0 <= span <= sqrt(4 * shape.area / pi) + 1e-9
    assert span <= min(x2 - x1, y2 - y1) + 1e-9


patterns = st.builds(
    PlanPattern,
    kind=st.sampled_from(["square", "staggered"]),
    bolt_spacing_m=st.integers(5, 40).map(lambda it: Decimal(it) / 10),
    row_spacing_m=st.integers(5, 40).map(lambda it: Decimal(it) / 10),
    tolerance_m=st.just(Decimal("0.1")),
    because=st.just("S-2, 8.2"),
)


@given(around(), patterns)
def test_positions_lie_within_the_outline_and_no_farther_apart_than_is_stated(
    outline: list[Corner], pattern: PlanPattern
) -> None:
    if why_no_outline(outline):
        return
    shape = shapely.Polygon([(float(it.x_m), float(it.y_m)) for it in outline])
    x1, y1, x2, y2 = shape.bounds
    found = positions_m(outline, pattern)
    across, along = float(pattern.bolt_spacing_m), float(pattern.row_spacing_m)

    assert all(shape.distance(shapely.Point(it)) < 1e-6 for it in found)
    assert len(found) <= ((x2 - x1) / along + 1) * ((y2 - y1) / across + 1)


@given(st.lists(corners, max_size=12) | around(), st.lists(bolts, max_size=12))
def test_whatever_the_outline_it_is_judged_or_held_and_never_breaks(
    outline: list[Corner], seen: list[PlanBolt]
) -> None:
    """Concave, without area or crossing itself: what can't be judged is rework."""
    found = judged(outline, seen)

    if why_no_outline(outline):
        assert [it.verdict for it in found] == [Verdict.REWORK]
    elif seen and all(it.plate == "seated" for it in seen):
        gap = next(it for it in found if it.check == "largest_gap")
        assert gap.measured is not None
        assert abs(float(gap.measured) - by_grid(outline, seen)) < GRID_M


def judged(outline: list[Corner], seen: list[PlanBolt]) -> tuple[Finding, ...]:
    standard = changed(lambda _document: None)
    demanded = standard.classes[W3]
    rule = demanded.intersection
    assert rule is not None
    body = Intersection(
        heading="junction", from_m=Decimal(100), to_m=Decimal(160), corners=tuple(outline),
        bolts=tuple(seen), support_class="W3", cable="LB50", cables=6, step="planned",
        at=datetime(2031, 5, 6, tzinfo=UTC),
    )  # fmt: skip
    return intersection_findings(Crossing(body, rule, demanded, standard.measuring), Done())


GRID_M = 1.0


def by_grid(outline: list[Corner], seen: list[PlanBolt]) -> float:
    """Find the widest circle by looking at many places: its centre within the outline."""
    shape = shapely.Polygon([(float(it.x_m), float(it.y_m)) for it in outline])
    x1, y1, x2, y2 = shape.bounds
    xs, ys = np.meshgrid(np.linspace(x1, x2, 150), np.linspace(y1, y2, 150))
    places = np.column_stack((xs.ravel(), ys.ravel()))
    held = places[shapely.covers(shape, shapely.points(places))]
    places = np.concatenate([held, np.asarray(shape.exterior.coords)])
    sites = np.array([(float(it.x_m), float(it.y_m)) for it in seen])
    return 2 * float(cdist(places, sites).min(axis=1).max())
