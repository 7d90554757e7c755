"""The view on the drive, without a window."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fieldapp.ui.drive.view import Ground, View, Window, fitted

ROUND = Ground(x_from_m=1384.0, x_to_m=1391.5, s_from_m=-6.0, s_to_m=6.0)
DRIVE = Ground(x_from_m=0.0, x_to_m=700.0, s_from_m=-6.0, s_to_m=6.0)
WINDOW = Window(left=70, bottom=150, width=640, height=420)


def test_the_face_is_above_and_the_left_wall_on_the_left() -> None:
    view = fitted(ROUND, WINDOW)

    left, low = view.pixel(1384.0, -6.0)
    right, high = view.pixel(1391.5, 6.0)

    assert left < right
    assert low < high


def test_one_metre_is_as_long_in_both_directions() -> None:
    view = fitted(ROUND, WINDOW)

    x0, y0 = view.pixel(1385.0, 0.0)

    assert view.pixel(1385.0, 1.0)[0] - x0 == pytest.approx(view.pixel(1386.0, 0.0)[1] - y0)


def test_a_round_is_seen_whole() -> None:
    view = fitted(ROUND, WINDOW)

    assert WINDOW.holds(view.pixel(1384.0, -6.0))
    assert WINDOW.holds(view.pixel(1391.5, 6.0))


def test_a_long_drive_is_seen_at_full_width_from_its_face() -> None:
    view = fitted(DRIVE, WINDOW)

    assert view.px_per_m == pytest.approx(640 / 12)
    assert view.pixel(700.0, 0.0)[1] == pytest.approx(570, abs=1)


def test_zooming_keeps_the_place_under_the_fingers() -> None:
    view = fitted(DRIVE, WINDOW).panned(0, 3000).zoomed(2, (400, 300))
    there = view.place((400, 300))

    again = view.zoomed(1.3, (400, 300)).place((400, 300))

    # Edges lie on whole pixels, so a place may be off by half of one.
    assert again == pytest.approx(there, abs=1 / view.px_per_m)


def test_a_step_is_about_what_somebody_looks_at_while_it_is_in_sight() -> None:
    view = fitted(DRIVE, WINDOW).panned(0, 3000)
    ring, gone = (300.0, 200.0), (WINDOW.left - 1, 200.0)

    assert view.stepped(2, ring) == view.zoomed(2, ring)
    assert view.stepped(2, gone) == view.stepped(2, None) == view.zoomed(2, WINDOW.middle)


def test_a_place_is_brought_to_the_middle() -> None:
    view = fitted(DRIVE, WINDOW).centred(350.0, 0.0)

    assert view.pixel(350.0, 0.0) == pytest.approx((390, 360), abs=1)


@given(
    right=st.floats(-1e5, 1e5),
    up=st.floats(-1e5, 1e5),
    times=st.floats(0.01, 100),
    at=st.tuples(st.floats(70, 710), st.floats(150, 570)),
)
def test_ground_never_leaves_the_window(
    right: float, up: float, times: float, at: tuple[float, float]
) -> None:
    view = fitted(DRIVE, WINDOW).zoomed(times, at).panned(right, up)

    middle = view.place((390, 360))

    assert DRIVE.x_from_m - 0.1 <= middle[0] <= DRIVE.x_to_m + 0.1
    assert DRIVE.s_from_m - 0.1 <= middle[1] <= DRIVE.s_to_m + 0.1


@given(x_m=st.floats(1384, 1391), s_m=st.floats(-6, 6), times=st.floats(0.5, 8))
def test_a_pixel_leads_back_to_its_place(x_m: float, s_m: float, times: float) -> None:
    view: View = fitted(ROUND, WINDOW).zoomed(times, (390, 360))

    assert view.place(view.pixel(x_m, s_m)) == pytest.approx((x_m, s_m))
