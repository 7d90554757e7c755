"""When a section of supported ground is walked next, and why."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from typing import Final

from fieldapp.assess.times import date_words
from fieldapp.assess.walk.sections import Section

CLOCKS_APART_AT_MOST: Final = timedelta(days=1)
"""A look dated further ahead than this was dated by a clock that was wrong."""
NEVER: Final = "never looked at"
PARTLY: Final = "part of it was never looked at"


@dataclass(frozen=True)
class LookedAt:
    """Ground that somebody reached and looked at, and when."""

    ground: Section
    at: datetime


@dataclass(frozen=True)
class Shaken:
    """Ground within the radius of an event."""

    ground: Section
    at: datetime
    words: str
    """What happened, where and when."""


@dataclass(frozen=True)
class Interval:
    """How often ground is looked at, and why so often."""

    days: int
    because: str


@dataclass(frozen=True)
class Due:
    """When a section is walked next."""

    on: date
    why: str
    at_once: bool = False
    """Whether it waits for no interval: nobody ever looked, or something happened there."""

    def late_days(self, today: date) -> int:
        """Count the days by which it is late; 0 while it is not."""
        return max(0, (today - self.on).days)


def due(
    section: Section,
    looks: Iterable[LookedAt],
    shaken: Iterable[Shaken],
    interval: Interval,
    as_at: datetime,
) -> Due:
    """Say when a section is walked next.

    Every piece of it counts by itself: a look at half of a section leaves the other half due.

    Parameters
    ----------
    section : Section
        The ground. [m]
    looks : iterable of LookedAt
        Those that reached some of it, in any order. [m]
    shaken : iterable of Shaken
        Events that reached some of it, in any order. [m]
    interval : Interval
        How often it is looked at. [d]
    as_at : datetime
        When this is asked, in the mine's own time. [-]

    Returns
    -------
    Due
        As long after the oldest of the newest looks at its pieces as the interval says; at once,
        today, where some of it was never looked at; at once, since the first such, after an
        event that nobody looked since. The earliest of these. [d]

    Source
    ------
    Common practice, no source. A look that a wrong clock dated ahead counts as none.
    """
    believed = [it for it in looks if it.at <= as_at + CLOCKS_APART_AT_MOST]
    by_interval = _by_interval(section, believed, interval, as_at)
    events = (it for it in shaken if _is_open(section, it, believed))
    first = min(events, key=lambda it: (it.at, it.words), default=None)
    if first is None:
        return by_interval
    since = first.at.astimezone(as_at.tzinfo).date()
    happened = f"{first.words}, not looked at since"
    if by_interval.on < since:
        return replace(by_interval, why=f"{happened}; {by_interval.why}", at_once=True)
    return Due(since, happened, at_once=True)


def _by_interval(
    section: Section, looks: Sequence[LookedAt], interval: Interval, as_at: datetime
) -> Due:
    newest = _newest_of_pieces(section, looks)
    known = [at for at in newest if at is not None]
    if len(known) < len(newest):
        return Due(as_at.date(), PARTLY if known else NEVER, at_once=True)
    oldest = min(known).astimezone(as_at.tzinfo)
    why = f"last looked at on {date_words(oldest)}; {interval.because}"
    return Due(oldest.date() + timedelta(days=interval.days), why)


def _is_open(section: Section, event: Shaken, looks: Sequence[LookedAt]) -> bool:
    """Whether some of the section within an event's reach was not looked at since."""
    from_m = max(section.from_m, event.ground.from_m)
    to_m = min(section.to_m, event.ground.to_m)
    if from_m >= to_m:
        return False
    newest = _newest_of_pieces(Section(from_m, to_m), looks)
    return any(at is None or at <= event.at for at in newest)


def _newest_of_pieces(section: Section, looks: Sequence[LookedAt]) -> list[datetime | None]:
    """Give the newest look at each piece between the borders of all looks."""
    here = [it for it in looks if section.overlaps(it.ground.from_m, it.ground.to_m)]
    borders = {border for it in here for border in (it.ground.from_m, it.ground.to_m)}
    within = sorted(it for it in borders if section.from_m < it < section.to_m)
    ends = [*within, section.to_m]
    starts = [section.from_m, *within]
    return [
        max((it.at for it in here if it.ground.overlaps(start, end)), default=None)
        for start, end in zip(starts, ends, strict=True)
    ]
