"""Counts and places of demanded positions."""

import math
from decimal import Decimal
from fractions import Fraction
from itertools import pairwise

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from fieldapp.assess.gaps.area import Area
from fieldapp.assess.gaps.largest import largest_gap
from fieldapp.assess.gaps.of_pattern import intact_gap_m, missing_gap_m
from fieldapp.assess.pattern import bolts_in_row, positions_s_m
from fieldapp.assess.profile.profile import SupportedLine

millimetres = st.integers(500, 3000)


@given(st.integers(1_000, 20_000), millimetres, st.integers(0, 300), st.integers(2, 12))
def test_the_count_is_the_least_that_keeps_every_spacing(
    line: int, spacing: int, tolerance: int, on_sheet: int
) -> None:
    thousandth = Decimal("0.001")
    count = bolts_in_row(line * thousandth, spacing * thousandth, tolerance * thousandth, on_sheet)

    assert count >= on_sheet
    assert Fraction(line, count - 1) <= spacing + tolerance
    assert count == on_sheet or Fraction(line, count - 2) > spacing + tolerance


@given(st.integers(1, 40), st.sampled_from(["1.2", "1.4", "0.7", "1.1", "0.3"]))
def test_a_line_of_whole_spacings_demands_no_bolt_too_many(spaces: int, spacing: str) -> None:
    assert bolts_in_row(spaces * Decimal(spacing), Decimal(spacing), Decimal(0), 2) == spaces + 1


@given(st.floats(0.5, 9), st.floats(0.5, 9), st.integers(2, 20), st.booleans())
def test_positions_lie_evenly_between_the_ends_and_mirror(
    left: float,
    right: float,
    full: int,
    offset: bool,  # noqa: FBT001
) -> None:
    line = SupportedLine(-left, right)
    places = positions_s_m(line, full, offset=offset)
    mirrored = positions_s_m(SupportedLine(-right, left), full, offset=offset)
    spacing = line.length_m / (full - 1)

    assert len(places) == (full - 1 if offset else full)
    assert math.isclose(places[0] - line.left_s_m, spacing / 2 if offset else 0, abs_tol=1e-9)
    assert all(abs(b - a - spacing) < 1e-9 for a, b in pairwise(places))
    assert [-s for s in reversed(mirrored)] == list(places)


@settings(max_examples=60, deadline=None)
@given(
    st.floats(0.8, 2.5), st.floats(0.8, 2.5), st.sampled_from(["square", "staggered"]),
    st.lists(st.tuples(st.integers(-1, 1), st.integers(-1, 1)), max_size=2, unique=True),
)  # fmt: skip
def test_the_closed_form_of_a_pattern_is_what_the_search_finds(
    s: float,
    b: float,
    kind: str,
    missing: list[tuple[int, int]],
) -> None:
    """Two ways that share no code: arithmetic on the lattice, and the largest gap of a patch."""
    staggered = kind == "staggered"
    steps = [(r, k) for r in range(-18, 19) for k in range(-25, 26) if (r, k) not in missing]
    bolts = np.array([(r * b, k * s + (r * s / 2 if staggered else 0)) for r, k in steps])
    reach_x, reach_s = 3.0 * max(s, b), 3.0 * max(s, b)
    area = Area(
        ((-reach_x, -reach_s), (reach_x, -reach_s), (reach_x, reach_s), (-reach_x, reach_s))
    )
    near = bolts[(np.abs(bolts) < 4.5 * max(s, b) + 1).all(axis=1)]
    found = largest_gap(near, area, None).diameter_m
    closed = (
        missing_gap_m(s, b, missing, staggered=staggered)
        if missing
        else intact_gap_m(s, b, staggered=staggered)
    )

    assert abs(found - closed) < 1e-7
