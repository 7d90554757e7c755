import pytest
from hypothesis import given
from hypothesis import strategies as st

from sync.segment import (
    FIRST_PREVIOUS,
    MOST_ENTRIES,
    USUAL_RAW_BYTES,
    BrokenSegment,
    how_many_fit,
    open_segment,
    seal,
    segment_name,
)
from tests.made import TABLET_KEY

lines = st.binary(min_size=1, max_size=40).map(lambda line: line.replace(b"\n", b" "))


@given(st.lists(lines, min_size=1, max_size=MOST_ENTRIES))
def test_what_was_sealed_opens_to_the_same_lines(content: list[bytes]) -> None:
    sealed = seal(content, key=TABLET_KEY, seq=1, prev=FIRST_PREVIOUS)

    opened = open_segment(sealed.name, sealed.content, public_key=TABLET_KEY.public_key)

    assert opened.lines == tuple(content)


@given(st.binary(max_size=600), st.integers(0, 10), st.booleans())
def test_other_bytes_are_refused(
    content: bytes,
    cut: int,
    own_header: bool,  # noqa: FBT001
) -> None:
    sealed = seal([b"{}"], key=TABLET_KEY, seq=1, prev=FIRST_PREVIOUS)
    head = sealed.content.partition(b"\n")[0] + b"\n" if own_header else b""
    other = head + content[cut:]

    with pytest.raises(BrokenSegment):
        open_segment(segment_name(1, other), other, public_key=TABLET_KEY.public_key)


@given(st.lists(st.integers(1, 100_000), min_size=1, max_size=400))
def test_as_many_lines_as_fit_go_into_a_segment_and_at_least_one(sizes: list[int]) -> None:
    count = how_many_fit(sizes)
    raw = sum(sizes[:count]) + count

    assert 1 <= count <= MOST_ENTRIES
    assert count == 1 or raw <= USUAL_RAW_BYTES
    assert count in (len(sizes), MOST_ENTRIES) or raw + sizes[count] + 1 > USUAL_RAW_BYTES
