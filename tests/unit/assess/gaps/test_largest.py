"""Degenerate rounds, and shapes that nobody should draw."""

import numpy as np
import pytest

from fieldapp.assess.gaps.area import Area, FaceLine, Points, supported_area
from fieldapp.assess.gaps.largest import largest_gap
from fieldapp.assess.gaps.uncertainty import Doubt, Doubts, gap_uncertainty_m

SQUARE = Area(((0, 0), (4, 0), (4, 4), (0, 4)))


def bolts(*places: tuple[float, float]) -> Points:
    return np.array(places, dtype=float).reshape(-1, 2)


def test_no_bolt_and_no_face_is_wider_than_any_bolt_could_leave() -> None:
    gap = largest_gap(bolts(), SQUARE, None)

    assert gap.touching == ()
    assert gap.diameter_m >= largest_gap(bolts((0, 0)), SQUARE, None).diameter_m


def test_no_bolt_before_a_face_reaches_back_from_it() -> None:
    face = FaceLine(((4, 0), (4, 4)))
    gap = largest_gap(bolts(), SQUARE, face)

    assert gap.diameter_m == pytest.approx(8.0)
    assert gap.centre_m[0] == pytest.approx(0.0)
    assert gap.touches_face


def test_one_bolt_in_a_corner() -> None:
    gap = largest_gap(bolts((0, 0)), SQUARE, None)

    assert gap.centre_m == (4.0, 4.0)
    assert gap.touching == (0,)


def test_bolts_in_one_hole_count_once_and_are_all_named() -> None:
    gap = largest_gap(bolts((0, 0), (0, 0), (4, 4), (4, 4)), SQUARE, None)

    assert gap.diameter_m == pytest.approx(8.0)
    assert gap.touching == (0, 1, 2, 3)


def test_bolts_in_a_line() -> None:
    gap = largest_gap(bolts((0, 2), (1, 2), (2, 2), (3, 2), (4, 2)), SQUARE, None)

    assert gap.diameter_m == pytest.approx(2 * np.hypot(0.5, 2.0))


def test_of_two_gaps_equally_wide_the_one_nearer_the_joint() -> None:
    gap = largest_gap(bolts((0, 0), (2, 0), (4, 0), (0, 4), (2, 4), (4, 4)), SQUARE, None)

    assert gap.centre_m == pytest.approx((1.0, 2.0))


def test_a_ragged_face_bounds_the_circle_where_it_stands_out() -> None:
    flat = FaceLine(((6, 0), (6, 2), (6, 4)))
    ragged = FaceLine(((6, 0), (4.5, 2), (6, 4)))
    edges = [(0.0, 0.0), (4.0, 0.0)], [(0.0, 4.0), (4.0, 4.0)]
    held = bolts((0, 0), (0, 4), (2, 0), (2, 4))

    assert (
        largest_gap(held, supported_area(*edges, ragged), ragged).diameter_m
        < largest_gap(held, supported_area(*edges, flat), flat).diameter_m
    )


@pytest.mark.parametrize(
    "outline",
    [((0.0, 0.0), (2.0, 2.0), (2.0, 0.0), (0.0, 2.0)), ((0.0, 0.0), (1.0, 0.0)),
     ((0.0, 0.0), (1.0, 0.0), (2.0, 0.0))],
    ids=["crosses itself", "two corners", "no inside"],
)  # fmt: skip
def test_an_outline_without_an_inside_is_refused(outline: tuple[tuple[float, float], ...]) -> None:
    with pytest.raises(ValueError, match="no inside"):
        Area(outline)


def test_a_face_line_that_turns_back_is_refused() -> None:
    with pytest.raises(ValueError, match="left to right"):
        FaceLine(((4, 0), (4, 2), (4.2, 1)))


def doubts(*bolts: Doubt, rows: int = 1, step: float = 0.0, face: float = 0.0) -> Doubts:
    return Doubts(bolts, (step,) * rows, face)


def test_a_circle_between_two_bolts_is_as_unsure_as_half_of_each() -> None:
    """Two bolts on a line across: D = their distance, u(D) = √2·u, whichever way it is seen."""
    line = bolts((0, 0), (0, 2))
    strip = Area(((-0.1, 0), (0.1, 0), (0.1, 2), (-0.1, 2)))
    gap = largest_gap(line, strip, None)
    unsure = doubts(Doubt(0, 0.0, 0.03), Doubt(0, 0.0, 0.03))

    assert gap_uncertainty_m(gap, line, unsure, (strip, None)) == pytest.approx(
        0.03 * np.sqrt(2), rel=0.01
    )


def test_the_step_between_two_rows_makes_the_square_between_them_unsure() -> None:
    """D = √(s² + b²), so u(D) = b/D·u(b) = u(b)/√2: only the step between the rows matters."""
    square = bolts((0, 0), (0, 2), (2, 0), (2, 2))
    area = Area(((0, 0), (2, 0), (2, 2), (0, 2)))
    gap = largest_gap(square, area, None)
    rows = [Doubt(row, 0.0, 0.0) for row in (0, 0, 1, 1)]
    stated = gap_uncertainty_m(gap, square, Doubts(tuple(rows), (9.0, 0.05), 0.0), (area, None))

    assert stated == pytest.approx(0.05 / np.sqrt(2))


def test_an_unsure_face_makes_the_gap_beside_it_unsure() -> None:
    face = FaceLine(((4, 0), (4, 4)))
    one = bolts((0, 2))
    gap = largest_gap(one, SQUARE, face)

    assert gap.touches_face
    assert gap_uncertainty_m(gap, one, doubts(Doubt(0, 0, 0), face=0.1), (SQUARE, face)) > 0
