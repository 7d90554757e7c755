import pytest

from fieldapp.assess.profile.profile import ProfileRefused, supported_line
from fieldapp.assess.profile.shapes import (
    designed_arch_profile,
    flat_back_profile,
    measured_arch_profile,
    surveyed_profile,
)

ARCH = designed_arch_profile(5.0, 3.0, 2.0)


def test_the_crown_is_s_zero_and_left_is_negative() -> None:
    assert ARCH.at(0.0) == pytest.approx((0.0, 5.0))
    assert ARCH.at(-1.0)[0] < 0 < ARCH.at(1.0)[0]


def test_an_arch_without_rise_is_a_flat_back() -> None:
    assert measured_arch_profile(5.0, 4.0, 0.0) == flat_back_profile(5.0, 4.0)


@pytest.mark.parametrize(("width", "wall", "rise"), [(0, 3, 1), (5, -1, 1), (5, 3, -1), (5, 0, 0)])
def test_a_drive_without_room_is_refused(width: float, wall: float, rise: float) -> None:
    with pytest.raises(ProfileRefused):
        measured_arch_profile(width, wall, rise)


def test_corners_larger_than_the_drive_are_refused() -> None:
    with pytest.raises(ProfileRefused):
        flat_back_profile(4.0, 4.0, 2.1)


def test_support_only_on_the_back_of_a_flat_drive() -> None:
    line = supported_line(flat_back_profile(5.0, 4.0), 4.0, 4.0)

    assert (line.left_s_m, line.right_s_m) == pytest.approx((-2.5, 2.5))


def test_walls_may_be_supported_down_to_different_heights() -> None:
    line = supported_line(flat_back_profile(5.0, 4.0), 1.5, 3.0)

    assert (line.left_s_m, line.right_s_m) == pytest.approx((-5.0, 3.5))


def test_a_height_above_the_crown_is_refused() -> None:
    with pytest.raises(ProfileRefused, match="nothing stands"):
        supported_line(ARCH, 5.5, 1.5)


def test_a_survey_that_stops_short_of_the_floor_goes_straight_down() -> None:
    profile = surveyed_profile([(-2.5, 1.0), (-2.5, 4.0), (2.5, 4.0), (2.5, 0.5)], 4.0)

    assert profile.line_m == pytest.approx(13.0)
    assert profile.at(0.0) == pytest.approx((0.0, 4.0))


@pytest.mark.parametrize(
    "points",
    [
        [],
        [(-1.0, 0.0), (1.0, 0.0)],
        [(0.5, 0.0), (0.5, 3.0), (1.0, 3.0)],
        [(-1.0, 0.0), (1.0, 3.0), (1.0, 1.0), (-1.0, 3.0), (2.0, 0.0)],
    ],
    ids=["none", "two", "one side", "crosses itself"],
)
def test_a_survey_that_is_no_outline_is_refused(points: list[tuple[float, float]]) -> None:
    with pytest.raises(ProfileRefused):
        surveyed_profile(points, 1.0)


def test_a_tape_that_ends_below_the_floor_is_refused() -> None:
    with pytest.raises(ProfileRefused, match="below the floor"):
        ARCH.chord_to_arc_m(ARCH.floor_s_m[1] - 0.5, 9.0)


def test_a_place_below_the_floor_is_refused() -> None:
    with pytest.raises(ProfileRefused):
        ARCH.at(ARCH.floor_s_m[0] - 0.01)
