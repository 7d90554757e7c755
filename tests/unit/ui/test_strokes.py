"""Lines as quads: where their solid part lies."""

import numpy as np
import pytest

from fieldapp.ui.drive.strokes import Strokes, box_points, circle_points

ROWS = {"text": 0.5}


def extent_of(strokes: Strokes) -> tuple[float, ...]:
    xy = strokes.quads[..., :2].reshape(-1, 2)
    return (*xy.min(axis=0), *xy.max(axis=0))


def test_a_line_is_as_wide_as_it_says_and_fades_within_a_pixel() -> None:
    strokes = Strokes(ROWS)
    strokes.line([(0, 10), (100, 10)], 4, "text")

    _, low, _, high = extent_of(strokes)

    # 4 px solid, and half a pixel more to each side in which it fades
    assert (low, high) == pytest.approx((7.5, 12.5))


def test_dashes_cover_half_of_the_line() -> None:
    strokes = Strokes(ROWS)
    strokes.dashed([(0, 0), (100, 0)], 2, "text", 10)

    # 0–10, 20–30, 40–50, 60–70, 80–90: five dashes of two quads each
    assert len(strokes.quads) == 10


def test_dashes_go_round_corners() -> None:
    strokes = Strokes(ROWS)
    strokes.dashed([(0, 0), (15, 0), (15, 15)], 2, "text", 10)

    # 0–10 on the first leg; 20–30 wholly on the second, from y 5 to 15
    xy = strokes.quads[2:, :, 1]
    assert (xy.min(), xy.max()) == pytest.approx((4.7, 15.3))


def test_hatching_stays_in_its_box() -> None:
    strokes = Strokes(ROWS)
    strokes.hatched((10, 20), (60, 12), 5, 1, "text")

    left, low, right, high = extent_of(strokes)

    assert left >= 9
    assert low >= 19
    assert right <= 71
    assert high <= 33
    assert len(strokes.quads) > 0


def test_an_area_is_solid_to_its_edge() -> None:
    strokes = Strokes(ROWS)
    strokes.area((1, 2), (3, 4), "text")

    assert extent_of(strokes) == (1, 2, 4, 6)
    assert np.all(strokes.quads[..., 2] == 1)


def test_a_line_of_no_length_draws_nothing() -> None:
    strokes = Strokes(ROWS)
    strokes.line([(5, 5), (5, 5)], 3, "text")

    assert strokes.quads.shape == (0, 4, 4)


def test_a_circle_is_round_and_closed() -> None:
    points = np.array(circle_points((50, 50), 20))

    assert np.hypot(*(points - 50).T) == pytest.approx(20)
    assert points[0] == pytest.approx(points[-1])


def test_a_box_with_round_corners_keeps_its_size() -> None:
    points = np.array(box_points((10, 20), (100, 50), 8))

    assert (*points.min(axis=0), *points.max(axis=0)) == pytest.approx((10, 20, 110, 70))


def test_a_disc_is_as_large_as_it_says_and_fades_within_a_pixel() -> None:
    strokes = Strokes(ROWS)
    strokes.disc((50, 50), 10, "text")
    left, low, right, high = extent_of(strokes)
    solid = strokes.quads[..., 2]

    # 10 px solid, and half a pixel more all around in which it fades
    assert (right - left, high - low) == pytest.approx((21, 21), abs=0.2)
    assert solid.min() == 0
    # From the middle it is 10.5 px to the edge, told in sixteenths: the texture's 16 px
    assert solid.max() == pytest.approx(10.5 / 16)
