from decimal import Decimal

import pytest

from fieldapp.assess.pattern import (
    LastOldRow,
    Pattern,
    Zone,
    bolts_in_row,
    demanded_rows,
    positions_s_m,
    zone_of,
)
from fieldapp.assess.profile.profile import SupportedLine
from fieldapp.assess.profile.shapes import designed_arch_profile
from fieldapp.assess.seen import borders_of
from tests.unit.assess.conforming import STANDARD

LINE = SupportedLine(-4.9, 4.9)


def pattern(*, staggered: bool) -> Pattern:
    return Pattern(staggered, Decimal("1.4"), Decimal("1.2"), Decimal("0.1"), 8)


def test_the_sheet_rules_where_it_has_more() -> None:
    assert bolts_in_row(Decimal("9.916"), Decimal("1.4"), Decimal("0.1"), 9) == 9
    assert bolts_in_row(Decimal("9.916"), Decimal("1.4"), Decimal("0.1"), 6) == 8


def test_a_binary_float_would_demand_one_too_many() -> None:
    assert 8.4 / 1.2 > 7
    assert bolts_in_row(Decimal("8.4"), Decimal("1.2"), Decimal(0), 2) == 8


def test_a_line_of_less_than_a_millimetre_demands_what_the_sheet_says() -> None:
    """A row can be surveyed so: it is contradictory, and brings nothing down."""
    assert bolts_in_row(Decimal(0), Decimal("1.4"), Decimal("0.1"), 9) == 9


@pytest.mark.parametrize(("line", "spacing"), [("9.9", "0"), ("9.9", "-1"), ("-1", "1.4")])
def test_no_row_without_a_spacing_or_a_line(line: str, spacing: str) -> None:
    with pytest.raises(ValueError, match="no row of bolts"):
        bolts_in_row(Decimal(line), Decimal(spacing), Decimal(0), 2)


def test_one_bolt_is_no_row() -> None:
    with pytest.raises(ValueError, match="no two ends"):
        positions_s_m(LINE, 1, offset=False)


def test_an_offset_row_has_one_fewer_and_starts_half_a_spacing_higher() -> None:
    full = positions_s_m(LINE, 8, offset=False)
    offset = positions_s_m(LINE, 8, offset=True)

    assert full == pytest.approx([-4.9, -3.5, -2.1, -0.7, 0.7, 2.1, 3.5, 4.9])
    assert offset == pytest.approx([-4.2, -2.8, -1.4, 0.0, 1.4, 2.8, 4.2])


@pytest.mark.parametrize(("old", "first"), [(True, False), (False, True)])
def test_a_staggered_pattern_goes_on_across_the_joint(old: bool, first: bool) -> None:  # noqa: FBT001
    rows = demanded_rows(pattern(staggered=True), [LINE] * 3, LastOldRow(1386.4, old), 0.0)

    assert [row.offset for row in rows] == [first, old, first]
    assert [row.chainage_m for row in rows] == pytest.approx([1387.6, 1388.8, 1390.0])
    assert [row.number for row in rows] == [1, 2, 3]


def test_a_square_pattern_never_offsets() -> None:
    rows = demanded_rows(pattern(staggered=False), [LINE] * 2, LastOldRow(10.0, offset=False), 0.0)

    assert [row.offset for row in rows] == [False, False]


def test_a_new_drive_starts_with_a_full_row_where_it_is_told() -> None:
    rows = demanded_rows(pattern(staggered=True), [LINE] * 2, None, 0.6)

    assert [row.chainage_m for row in rows] == pytest.approx([0.6, 1.8])
    assert [row.offset for row in rows] == [False, True]


def test_overbreak_in_one_row_demands_more_bolts_there() -> None:
    wider = SupportedLine(-5.4, 5.4)
    rows = demanded_rows(pattern(staggered=False), [LINE, wider], None, 0.0)

    assert [len(row.s_m) for row in rows] == [8, 9]


@pytest.mark.parametrize(
    ("s", "zone"),
    [(-3.46, Zone.LEFT_WALL), (-3.4, Zone.LEFT_SHOULDER), (-2.4, Zone.LEFT_SHOULDER),
     (-1.9, Zone.BACK), (0, Zone.BACK), (2.5, Zone.RIGHT_SHOULDER), (4.9, Zone.RIGHT_WALL)],
)  # fmt: skip
def test_zones(s: float, zone: Zone) -> None:
    borders = borders_of(STANDARD.classes[0], designed_arch_profile(5.0, 3.0, 2.0))

    assert zone_of(s, borders) is zone


def test_on_a_border_the_zone_nearer_the_crown() -> None:
    borders = borders_of(STANDARD.classes[0], designed_arch_profile(5.0, 3.0, 2.0))

    assert zone_of(borders.left_springline_s_m, borders) is Zone.LEFT_SHOULDER
    assert zone_of(borders.right_shoulder_s_m, borders) is Zone.BACK
