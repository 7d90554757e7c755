"""The model of a tablet's logical clock: what it stated last, and every time that it heard."""

from bisect import bisect_right, insort
from collections.abc import Callable, Iterable

from schemas.entry import Entry
from schemas.logical_clock import LogicalClock, LogicalTime, farthest_followed
from sync.names import SegmentName


class ModelClock:
    """The clock of one tablet."""

    def __init__(self) -> None:
        self._own = LogicalClock()
        self._heard: list[tuple[LogicalTime, SegmentName]] = []

    def copied(self) -> "ModelClock":
        """Give the clock of a copy."""
        other = ModelClock()
        other._own, other._heard = self._own, self._heard.copy()
        return other

    def hear(self, name: SegmentName, entries: Iterable[Entry]) -> None:
        """Remember the times that stand in a segment."""
        for entry in entries:
            insort(self._heard, (entry.clock, name))

    def tick(self, wall_ms: int, counts: Callable[[SegmentName], bool]) -> LogicalTime:
        """Give the time of what is stated now, after what was stated here and what counts here."""
        followed = bisect_right(self._heard, farthest_followed(wall_ms), key=lambda it: it[0])
        heard = (self._heard[place] for place in reversed(range(followed)))
        latest = next((at for at, name in heard if counts(name)), LogicalTime(0))
        self._own = LogicalClock(max(self._own.latest, latest)).tick(wall_ms)
        return self._own.latest
