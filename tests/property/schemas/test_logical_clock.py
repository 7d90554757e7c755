from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from schemas.logical_clock import LARGEST_COUNT, LogicalClock, LogicalTime

walls_ms = st.integers(0, 2**41)
readings = st.builds(LogicalTime, walls_ms, st.integers(0, LARGEST_COUNT))


@given(readings)
def test_a_reading_survives_being_written(reading: LogicalTime) -> None:
    assert LogicalTime.from_text(str(reading)) == reading


@given(readings, readings)
def test_texts_sort_as_readings_do(one: LogicalTime, other: LogicalTime) -> None:
    assert (str(one) < str(other)) == (one < other)


@given(readings, st.lists(walls_ms, min_size=1))
def test_the_clock_only_goes_forward_whatever_the_wall_says(
    start: LogicalTime, walls: list[int]
) -> None:
    clocks = [LogicalClock(start)]
    for wall_ms in walls:
        clocks.append(clocks[-1].tick(wall_ms))

    assert all(earlier.latest < later.latest for earlier, later in pairwise(clocks))
