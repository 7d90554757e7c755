"""Sections cover supported ground without a hole and without an overlap, however it is cut."""

from decimal import Decimal
from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from fieldapp.assess.walk import section_number, sections_of

chainages = st.integers(0, 20_000).map(lambda tenths: Decimal(tenths) / 10)
lengths = st.integers(5, 1000).map(lambda tenths: Decimal(tenths) / 10)


@given(chainages, chainages, lengths)
def test_sections_cover_the_ground_once(from_m: Decimal, to_m: Decimal, length: Decimal) -> None:
    cut = sections_of(from_m, to_m, length)

    assert sum((it.to_m - it.from_m for it in cut), Decimal(0)) == max(to_m - from_m, 0)
    assert all(one.to_m == other.from_m for one, other in pairwise(cut))
    assert all(0 < it.to_m - it.from_m <= length for it in cut)


@given(chainages, chainages, chainages, lengths)
def test_a_section_keeps_its_number_while_the_drive_advances(
    from_m: Decimal, to_m: Decimal, advance_m: Decimal, length: Decimal
) -> None:
    before, after = (sections_of(from_m, it, length) for it in (to_m, to_m + advance_m))

    assert [it.from_m for it in before] == [it.from_m for it in after[: len(before)]]
    numbers = [section_number(it.from_m, length) for it in after]
    assert all(other == one + 1 for one, other in pairwise(numbers))
