"""Places in the mine's grid, along lines whose answers are known by hand."""

from math import sqrt

import pytest

from fieldapp.assess.surveyed_line import LinePoint, SurveyedLine

NORTH = SurveyedLine([LinePoint(100, 5000, 8000, -900), LinePoint(200, 5000, 8100, -910)])


def test_looking_north_the_right_wall_is_east_and_up_is_up() -> None:
    # Half-way of a line that falls 10 m in 100 m: 5 m down.
    assert NORTH.at(150, across_m=2.0, up_m=3.0) == pytest.approx((5002, 8050, -902))


def test_looking_east_the_right_wall_is_south() -> None:
    east = SurveyedLine([LinePoint(0, 0, 0, 0), LinePoint(10, 10, 0, 0)])

    assert east.at(4, across_m=1.0) == pytest.approx((4, -1, 0))


def test_in_a_right_angle_the_wall_stands_square_to_the_bisector() -> None:
    bend = SurveyedLine([LinePoint(20, 10, 10, 0), LinePoint(0, 0, 0, 0), LinePoint(10, 0, 10, 0)])
    # Turning from north to east, the direction at the corner is north-east.
    assert bend.at(10, across_m=sqrt(2)) == pytest.approx((1, 9, 0))


def test_chainage_that_a_survey_found_longer_is_shared_out_between_its_points() -> None:
    longer = SurveyedLine([LinePoint(0, 0, 0, 0), LinePoint(10, 0, 11, 0)])

    assert longer.at(5) == pytest.approx((0, 5.5, 0))


def test_beyond_its_ends_nobody_has_surveyed() -> None:
    assert not NORTH.holds(99.99)
    assert not NORTH.holds(200.01)
    with pytest.raises(ValueError, match="beyond"):
        NORTH.at(200.01)


def test_a_line_has_two_points_each_at_a_chainage_of_its_own() -> None:
    for points in ([], [LinePoint(0, 0, 0, 0)], [LinePoint(0, 0, 0, 0), LinePoint(0, 1, 0, 0)]):
        with pytest.raises(ValueError, match="two points"):
            SurveyedLine(points)
