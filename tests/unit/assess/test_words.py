from decimal import Decimal

import pytest

from fieldapp.assess.words import (
    GapRows,
    beside_crown,
    counted,
    gap_place,
    mesh_place,
    row_name,
    spot,
)


@pytest.mark.parametrize(
    ("s", "said"),
    [
        (2.8, "2.8 m right of the crown"),
        (-1.24, "1.2 m left of the crown"),
        (-0.04, "at the crown"),
    ],
)
def test_across_the_drive(s: float, said: str) -> None:
    assert beside_crown(s) == said


def test_rows_from_the_joint_both_ways() -> None:
    assert [row_name(n) for n in (2, 0, -1)] == [
        "row 2",
        "the last old row",
        "the old row before it",
    ]


def test_a_bolt_has_figures_beside_its_words() -> None:
    place = spot(2, (1387.3004, -1.2395), "back", 4)

    assert place.words == "row 2, 1.2 m left of the crown"
    assert (place.chainage_m, place.s_m) == (Decimal("1387.300"), Decimal("-1.240"))


def test_figures_beyond_what_can_be_written_are_held_at_the_edge() -> None:
    place = gap_place(GapRows(0, 1), (100_500.0, 75.0), "right wall", Decimal(250))

    assert (place.chainage_m, place.s_m, place.diameter_m) == (
        Decimal(99_999),
        Decimal(60),
        Decimal(100),
    )


@pytest.mark.parametrize(
    ("rows", "said"),
    [
        (GapRows(1, 2), "between row 1 and row 2"),
        (GapRows(0, 1), "between the last old row and row 1"),
        (GapRows(-1, 0), "between the two old rows"),
        (GapRows(3, None), "between row 3 and the face"),
        (GapRows(2, 2), "beside row 2"),
        (GapRows(0, 0), "beside the last old row"),
    ],
)
def test_a_gap_lies_between_two_rows_or_in_line_with_one(rows: GapRows, said: str) -> None:
    place = gap_place(rows, (1387.0, -0.7), "back", Decimal(2))

    assert place.words == f"gap {said}, 0.7 m left of the crown"


def test_a_gap_keeps_the_row_inbye_of_it_from_being_complete() -> None:
    assert [GapRows(1, 2).barred, GapRows(3, None).barred, GapRows(2, 2).barred] == [2, 3, 2]


def test_bare_rock_beyond_the_last_chainage_that_can_be_written_is_held_there() -> None:
    """A round whose joint is the last that can be written has its rows beyond it."""
    place = mesh_place((Decimal("99999.1"), Decimal("-61.0")), "2 m² bare")

    assert (place.chainage_m, place.s_m) == (Decimal(99_999), Decimal(-60))


def test_mesh_and_counts() -> None:
    assert mesh_place((Decimal("1387.0"), Decimal(1)), "hole").words == (
        "hole at 1387.0 m, 1.0 m right of the crown"
    )
    assert [counted(1, "bolt"), counted(2, "bolt")] == ["1 bolt", "2 bolts"]
