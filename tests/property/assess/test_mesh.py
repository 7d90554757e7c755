"""Any sheets at all: their cover is that of a fine grid, and no sheet ever breaks a judgement."""

from decimal import Decimal

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from fieldapp.assess import assess
from fieldapp.assess.mesh.cover import cover_of
from fieldapp.assess.mesh.lapped import laps_of
from fieldapp.assess.seen import seen_in
from schemas.bodies.round import SheetSeen
from schemas.findings import Verdict
from tests.property.assess.rounds import sheets as any_sheets
from tests.unit.assess.conforming import JOINT, with_round
from tests.unit.assess.meshed import meshed, sheet

CELL = Decimal("0.1")
tenths = st.integers(-5, 35)
across = st.integers(-55, 55)


def _sheet(corners: tuple[int, int, int, int]) -> SheetSeen:
    x1, x2, s1, s2 = corners
    return sheet(1, (str(x1 * CELL), str(x2 * CELL)), (str(s1 * CELL), str(s2 * CELL)))


on_the_grid = st.tuples(tenths, tenths, across, across).map(
    lambda it: _sheet((min(it[:2]), max(it[:2]) + 9, min(it[2:]), max(it[2:]) + 12))
)
"""Edges at full tenths of a metre; large enough that a plate bears on each."""


def bare_by_grid(placed: list[SheetSeen]) -> float:
    """Count the cells that no sheet covers, within the supported line of ± 4.958 m."""
    x, s = np.arange(0.05, 2.7, 0.1), np.arange(-4.95, 5.0, 0.1)
    bare = np.ones((len(x), len(s)), dtype=bool)
    for one in placed:
        along = (x > float(one.from_m - JOINT)) & (x < float(one.to_m - JOINT))
        bare &= ~(along[:, None] & (s > float(one.left_s_m)) & (s < float(one.right_s_m))[None, :])
    wide = np.full(len(s), 0.1)
    wide[[0, -1]] = 4.958 - 4.9
    return float((bare * wide[None, :]).sum() * 0.1)


@settings(max_examples=30)
@given(st.lists(on_the_grid, min_size=1, max_size=4))
def test_what_stays_bare_is_what_a_fine_grid_counts(placed: list[SheetSeen]) -> None:
    numbered = [it.model_copy(update={"number": n}) for n, it in enumerate(placed, start=1)]
    cover = cover_of(seen_in(meshed(*numbered)), 0.0)

    assert abs(cover.area_m2 - bare_by_grid(placed)) < 0.01


@settings(max_examples=30)
@given(st.lists(any_sheets, max_size=5), st.lists(any_sheets, max_size=2))
def test_no_sheet_ever_breaks_a_judgement(
    placed: list[SheetSeen], before: list[SheetSeen]
) -> None:
    bundle = meshed(*placed)
    previous = with_round(bundle, sheets=tuple(before)).round
    found = assess(bundle.model_copy(update={"previous_round": previous}))

    assert not placed or found.verdict is not Verdict.ACCEPT or laps_of(seen_in(bundle))


@settings(max_examples=30)
@given(st.lists(any_sheets, min_size=1, max_size=4))
def test_one_sheet_more_never_leaves_more_bare(placed: list[SheetSeen]) -> None:
    fewer = cover_of(seen_in(meshed(*placed[1:], placed[0])), 0.0)
    more = cover_of(seen_in(meshed(*placed, sheet(9, ("0.50", "2.00")))), 0.0)

    assert more.area_m2 <= fewer.area_m2 + 1e-9
