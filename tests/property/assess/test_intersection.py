"""Whatever the outline: the span is found, and no circle is wider than the opening."""

from decimal import Decimal
from math import cos, pi, sin, sqrt
from typing import Any

import shapely
from hypothesis import given
from hypothesis import strategies as st

from fieldapp.assess.intersection import span_m, why_no_outline
from schemas.bodies.intersection import Corner

tenths = st.integers(-600, 600).map(lambda it: Decimal(it) / 10)
corners = st.builds(Corner, x_m=tenths, y_m=tenths)


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
