from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from schemas.logical_clock import FARTHEST_HEARD_MS, LARGEST_COUNT, LogicalClock, LogicalTime

walls_ms = st.integers(0, 2**41)
readings = st.builds(LogicalTime, walls_ms, st.integers(0, LARGEST_COUNT))


@given(readings)
def test_a_reading_survives_being_written(reading: LogicalTime) -> None:
    assert LogicalTime.from_text(str(reading)) == reading


@given(readings, readings)
def test_texts_sort_as_readings_do(one: LogicalTime, other: LogicalTime) -> None:
    assert (str(one) < str(other)) == (one < other)


@given(readings, st.lists(st.tuples(walls_ms, st.none() | readings), min_size=1))
def test_the_clock_only_goes_forward_whatever_the_wall_and_others_say(
    start: LogicalTime, steps: list[tuple[int, LogicalTime | None]]
) -> None:
    clocks = [LogicalClock(start)]
    for wall_ms, heard in steps:
        last = clocks[-1]
        clocks.append(last.tick(wall_ms) if heard is None else last.heard(heard, wall_ms))

    assert all(earlier.latest < later.latest for earlier, later in pairwise(clocks))


@given(readings, readings, walls_ms)
def test_what_is_heard_comes_before_what_is_said_next_unless_it_is_far_ahead(
    own: LogicalTime, theirs: LogicalTime, wall_ms: int
) -> None:
    after = LogicalClock(own).heard(theirs, wall_ms).latest

    assert after > theirs or theirs.ms > wall_ms + FARTHEST_HEARD_MS


@given(readings, readings, walls_ms)
def test_one_wrong_clock_does_not_drag_the_others_along(
    own: LogicalTime, theirs: LogicalTime, wall_ms: int
) -> None:
    after = LogicalClock(own).heard(theirs, wall_ms).latest

    assert after.ms <= max(own.ms + 1, wall_ms + FARTHEST_HEARD_MS + 1)
