from decimal import Decimal

import pytest

from fieldapp.assess.laps import LapLargerThanSheet, Sheet, laps_met_by_rows


def met(first_row: str, inside: str = "0.1", row_spacing: str = "1.2") -> tuple[int, ...]:
    sheet = Sheet(Decimal("2.4"), Decimal("0.3"))
    return laps_met_by_rows(sheet, Decimal(row_spacing), 9, Decimal(first_row), Decimal(inside))


def test_a_lap_no_smaller_than_the_sheet_is_refused() -> None:
    with pytest.raises(LapLargerThanSheet) as refused:
        Sheet(Decimal("0.3"), Decimal("0.3"))

    assert refused.value.lap_m == Decimal("0.3")


def test_rows_at_1_2_meet_every_fourth_lap() -> None:
    assert met("0.15") == (4, 8)


def test_which_laps_depends_on_where_the_first_row_is() -> None:
    assert met("1.05") == (1, 5, 9)


def test_a_bolt_on_the_very_edge_of_what_holds_counts() -> None:
    assert met("0.1") == (4, 8)
    assert met("0.099") == ()


def test_rows_that_fit_the_sheets_meet_all_or_none() -> None:
    assert met("0.15", row_spacing="1.05") == tuple(range(1, 10))
    assert met("0.60", row_spacing="1.05") == ()
