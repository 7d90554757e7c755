"""Sheets, strips and resin that a round takes."""

from decimal import Decimal

import pytest

from fieldapp.assess.laps import Sheet
from fieldapp.assess.take_off.mesh import pieces_across, strip_width_m, strips_from
from fieldapp.assess.take_off.resin import Hole, capsule_m, filled_share
from tests.reference.record import reference

LINE_M, OVERBROKEN_M = Decimal("9.916"), Decimal("10.726")
"""An arch of 5.0 × 3.0 m with a rise of 2.0 m, supported from 1.5 m; with 0.3 m of overbreak."""
WALLS_AND_BACK_M = Decimal("12.916")


@reference("N = ⌈(P − lap)/(w − lap)⌉: n sheets reach n·w − (n − 1)·lap", "closed form")
@pytest.mark.parametrize("line_m", [LINE_M, OVERBROKEN_M])
def test_five_sheets_of_2_4_m_lapped_0_3_m_reach_around_the_arch(line_m: Decimal) -> None:
    sheet = Sheet(Decimal("2.4"), Decimal("0.3"))

    assert pieces_across(line_m, sheet) == 5
    assert 4 * sheet.along_m - 3 * sheet.lap_m < line_m <= 5 * sheet.along_m - 4 * sheet.lap_m


@reference("An order's width is the advance and the lap", "common practice, no source")
def test_the_width_of_a_strip_to_order() -> None:
    assert strip_width_m(Decimal("3.6"), Decimal("0.3"), None) == Decimal("3.9")
    assert strip_width_m(Decimal("3.65"), Decimal("0.3"), Decimal("0.1")) == Decimal("4.0")


@reference(
    "A pack of three strips, 30 m in all, meshes two to three rounds", "common practice, no source"
)
@pytest.mark.parametrize(("line_m", "rounds"), [(LINE_M, 3), (WALLS_AND_BACK_M, 2)])
def test_a_pack_of_three_strips_meshes_two_to_three_rounds(line_m: Decimal, rounds: int) -> None:
    assert strips_from(Decimal(30), line_m, 3, Decimal("0.3")) == rounds


@reference("L·(Dh² − Db²)/Dc²: 2.0 m, hole 28, bar 20, capsule 24 mm", "closed form")
def test_capsules_that_just_fill_a_hole() -> None:
    assert capsule_m(Decimal("2.0"), Hole(Decimal(28), Decimal(20), Decimal(24))) == Decimal(
        "1.333"
    )


@reference("The same capsules in a hole of 30 mm fill 76.8 %; it needs 1.736 m", "closed form")
def test_the_same_capsules_do_not_fill_a_hole_drilled_too_wide() -> None:
    wide = Hole(Decimal(30), Decimal(20), Decimal(24))

    assert filled_share(Decimal(4) / 3, Decimal("2.0"), wide) == Decimal("0.768")
    assert capsule_m(Decimal("2.0"), wide) == Decimal("1.736")
