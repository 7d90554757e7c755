"""When a shift of this mine ends, by its own clock."""

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

from schemas.settings import Settings


def shift_ends(settings: Settings, at: datetime) -> datetime:
    """Give when the shift at a time ends, which is when the next one starts.

    Across a change to or from summer time the clock on the wall counts, not the hours.
    """
    local = at.astimezone(ZoneInfo(settings.zone))
    starts = [
        datetime.combine(local.date() + timedelta(days=day), shift.starts, local.tzinfo)
        for day in (0, 1)
        for shift in settings.shifts
    ]
    return min(start for start in starts if start > local).astimezone(UTC)
