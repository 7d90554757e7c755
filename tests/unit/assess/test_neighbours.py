from fieldapp.assess.neighbours import RowOfPositions, neighbours_without_bolt

FULL = (-2.1, -0.7, 0.7, 2.1)
OFFSET = (-1.4, 0.0, 1.4)


def row(places: tuple[float, ...], *without: int) -> RowOfPositions:
    return RowOfPositions(places, tuple(n not in without for n in range(len(places))))


def test_every_position_held_leaves_no_group() -> None:
    assert neighbours_without_bolt([row(FULL), row(FULL)]) == ()


def test_one_position_alone_is_no_group() -> None:
    assert neighbours_without_bolt([row(FULL, 1), row(FULL, 3), row(FULL)]) == ()


def test_two_in_a_row() -> None:
    assert neighbours_without_bolt([row(FULL, 1, 2)]) == (((0, 1), (0, 2)),)


def test_two_along_the_drive() -> None:
    assert neighbours_without_bolt([row(FULL, 1), row(FULL, 1)]) == (((0, 1), (1, 1)),)


def test_two_diagonal_which_no_circle_can_see() -> None:
    assert neighbours_without_bolt([row(FULL, 1), row(FULL, 2)]) == (((0, 1), (1, 2)),)


def test_staggered_neighbours_are_half_a_spacing_apart() -> None:
    assert neighbours_without_bolt([row(FULL, 1), row(OFFSET, 0)]) == (((0, 1), (1, 0)),)
    assert neighbours_without_bolt([row(FULL, 1), row(OFFSET, 1)]) == (((0, 1), (1, 1)),)
    assert neighbours_without_bolt([row(FULL, 1), row(OFFSET, 2)]) == ()


def test_a_row_between_keeps_them_apart() -> None:
    assert neighbours_without_bolt([row(FULL, 1), row(FULL), row(FULL, 1)]) == ()


def test_a_group_is_told_once_however_large() -> None:
    groups = neighbours_without_bolt([row(FULL, 0, 1), row(FULL, 2), row(FULL), row(FULL, 0, 1)])

    assert groups == (((0, 0), (0, 1), (1, 2)), ((3, 0), (3, 1)))
