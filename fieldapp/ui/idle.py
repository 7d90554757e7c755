"""When the tablet was touched last, by the mine's clock, and whether that is too long ago."""

from datetime import datetime

from fieldapp.work.people import is_idle
from fieldapp.work.site import Clock


class Idle:
    """Counts from the last touch. A clock that went backwards counts as too long."""

    def __init__(self, now: Clock) -> None:
        self._now = now
        self._last: datetime = now()

    def touched(self) -> None:
        """Start counting anew."""
        self._last = self._now()

    @property
    def is_over(self) -> bool:
        """Whether nobody has touched for so long that the tablet locks."""
        return is_idle(self._last, self._now())
