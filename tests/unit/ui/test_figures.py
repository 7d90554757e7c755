"""Figures on the glass: thousands apart, and an entry line never beyond itself."""

from decimal import Decimal

import pytest

from fieldapp.ui.figures import figure, line, metres

SPACE = "\N{NO-BREAK SPACE}"


@pytest.mark.parametrize(
    ("value", "said"),
    [("1386.40", f"1{SPACE}386.4 m"), ("39.45", "39.4 m"), ("0", "0.0 m")],
)
def test_a_chainage_is_said_to_the_tenth(value: str, said: str) -> None:
    assert metres(Decimal(value), "metres") == said


@pytest.mark.parametrize("value", ["605.90", "605.94", "605.95", "605.99"])
def test_an_entry_line_is_never_said_to_be_farther(value: str) -> None:
    assert line(Decimal(value), "metres") == "605.9 m"


def test_feet_and_inches_where_the_mine_reads_them() -> None:
    # 1386.40 m / 0.3048 m = 4548.556 ft; 0.556 ft = 6.68 in
    said = metres(Decimal("1386.40"), "feet and inches")

    assert said.replace(SPACE, " ") == "4 548 ft 7 in"


def test_a_figure_in_a_column_has_its_unit_above() -> None:
    assert figure(Decimal("1390.28"), "metres") == f"1{SPACE}390.3"
