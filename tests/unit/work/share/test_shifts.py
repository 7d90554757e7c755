"""When a shift ends: by the clock on the mine's wall."""

from datetime import UTC, datetime, time

import pytest

from fieldapp.work.share.shifts import shift_ends
from schemas.settings import Settings, Shift


def at(day: int, hour: int, month: int = 5) -> datetime:
    return datetime(2031, month, day, hour, tzinfo=UTC)


@pytest.mark.parametrize(
    ("now", "ends"),
    [
        (at(6, 9), at(6, 18)),  # day shift from 6 to 18
        (at(6, 20), at(7, 6)),  # night shift, over midnight
        (at(7, 3), at(7, 6)),
        (at(6, 18), at(7, 6)),  # on the stroke, the new shift has begun
    ],
)
def test_a_shift_ends_when_the_next_one_starts(now: datetime, ends: datetime) -> None:
    assert shift_ends(Settings(), now) == ends


def test_one_shift_a_day_ends_a_day_later() -> None:
    once = Settings(shifts=(Shift(name="the shift", starts=time(7)),))

    assert shift_ends(once, at(6, 9)) == at(7, 7)


def test_the_clock_on_the_wall_counts_where_summer_time_begins() -> None:
    # Europe/Rome, 30 March 2031: 02:00 becomes 03:00, so that this night is an hour shorter
    rome = Settings(zone="Europe/Rome")

    assert shift_ends(rome, at(29, 20, month=3)) == at(30, 4, month=3)
