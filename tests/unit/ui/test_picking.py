"""Which mark a finger meant. One millimetre is one pixel here."""

from fieldapp.ui.drive.picking import picked

LEFT, RIGHT = (0.0, 0.0), (12.0, 0.0)


def test_the_nearest_wins_when_it_is_clearly_nearer() -> None:
    # 4 and 8 mm away: 4 mm nearer, 3 are asked for
    assert picked([LEFT, RIGHT], (4.0, 0.0), 1.0).marks == (0,)


def test_just_3_mm_nearer_is_enough() -> None:
    # 4.5 and 7.5 mm away
    assert picked([LEFT, RIGHT], (4.5, 0.0), 1.0).is_clear


def test_a_touch_between_two_asks() -> None:
    # 5 and 7 mm away: 2 mm nearer
    assert picked([LEFT, RIGHT], (5.0, 0.0), 1.0).marks == (0, 1)
    assert picked([LEFT, RIGHT], (7.0, 0.0), 1.0).marks == (1, 0)


def test_a_touch_far_from_all_means_the_ground() -> None:
    assert picked([LEFT, RIGHT], (6.0, 30.0), 1.0).marks == ()
    assert picked([], (6.0, 30.0), 1.0).marks == ()


def test_millimetres_are_those_of_the_glass() -> None:
    # At 6 px a mm the two stand 2 mm apart: nobody can tell which was meant.
    assert picked([LEFT, RIGHT], (0.0, 0.0), 6.0).marks == (0, 1)


def test_no_more_are_offered_than_can_be_chosen_from() -> None:
    crowd = [(0.1 * number, 0.0) for number in range(30)]

    assert picked(crowd, (0.0, 0.0), 1.0).marks == (0, 1, 2, 3, 4, 5)
