import pytest

from schemas.logical_clock import LogicalClock, LogicalTime, farthest_followed

DAY_MS = 24 * 60 * 60 * 1000
NOW = 1_772_343_060_000


def test_a_reading_is_written_as_hexadecimal_milliseconds_and_count() -> None:
    assert str(LogicalTime(0x0192F0C1A2B3, 7)) == "0192f0c1a2b3-0007"
    assert LogicalTime.from_text("0192f0c1a2b3-0007") == LogicalTime(0x0192F0C1A2B3, 7)


@pytest.mark.parametrize("text", ["", "0192f0c1a2b3", "0192F0C1A2B3-0007", "x192f0c1a2b3-0007"])
def test_a_text_that_is_no_reading_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match="no logical time"):
        LogicalTime.from_text(text)


def test_the_clock_follows_the_wall() -> None:
    assert LogicalClock(LogicalTime(NOW - 5, 9)).tick(NOW).latest == LogicalTime(NOW)


def test_in_one_millisecond_the_count_tells_before_from_after() -> None:
    assert LogicalClock(LogicalTime(NOW, 3)).tick(NOW).latest == LogicalTime(NOW, 4)


def test_a_wall_clock_that_was_set_back_does_not_turn_the_order_round() -> None:
    assert LogicalClock(LogicalTime(NOW)).tick(NOW - DAY_MS).latest == LogicalTime(NOW, 1)


def test_a_full_count_carries_into_the_time() -> None:
    assert LogicalClock(LogicalTime(NOW, 0xFFFF)).tick(NOW).latest == LogicalTime(NOW + 1)


def test_what_is_more_than_five_minutes_ahead_is_not_followed() -> None:
    five_minutes_ahead = LogicalTime(NOW + 5 * 60 * 1000, 0xFFFF)

    assert farthest_followed(NOW) == five_minutes_ahead
    assert five_minutes_ahead.next() > farthest_followed(NOW)
