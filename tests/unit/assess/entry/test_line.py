from decimal import Decimal

from fieldapp.assess.entry.line import RowStanding, entry_line, rows_complete_to


def standing(*complete: bool) -> list[RowStanding]:
    return [RowStanding(Decimal(n + 1), whole) for n, whole in enumerate(complete)]


def test_the_run_ends_at_the_first_row_that_is_not_complete() -> None:
    assert rows_complete_to(standing(True, True, False, True)) == 2  # noqa: FBT003


def test_a_first_row_that_is_not_complete_leaves_no_run() -> None:
    assert rows_complete_to(standing(False, True)) is None  # noqa: FBT003


def test_the_strictest_of_rows_mesh_and_withdrawals_wins() -> None:
    rows = standing(True, True, True)  # noqa: FBT003

    assert entry_line(rows, None, cured=True) == 3
    assert entry_line(rows, Decimal("2.4"), cured=True) == Decimal("2.4")
    assert entry_line(rows, Decimal("2.4"), [Decimal("1.5"), Decimal(9)], cured=True) == Decimal(
        "1.5"
    )


def test_ground_that_has_not_cured_is_no_ground_to_enter() -> None:
    assert entry_line(standing(True), None, cured=False) is None  # noqa: FBT003
