"""Times as lines for reports have them."""

from datetime import UTC, datetime

from sync.labels import sortable_time


def utc_text(at: datetime) -> str:
    """Write a time in UTC so that texts sort as times do."""
    return sortable_time(at.astimezone(UTC))
