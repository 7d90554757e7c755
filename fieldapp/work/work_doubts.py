"""What is asked about the times of a round's work before it is kept, or once it is recorded.

Nothing is refused and nothing put right by itself: whoever stated it says whether it was so.
"""

from collections.abc import Iterator
from datetime import datetime, timedelta
from typing import Final

from fieldapp.assess.times import date_words
from schemas.bodies.work_seen import WorkSeen

LONGEST: Final = timedelta(hours=24)
"""Longer than that no crew supports one round. Common practice, no source."""
_MINUTE: Final = timedelta(minutes=1)


def work_doubts(work: WorkSeen | None, now: datetime) -> tuple[str, ...]:
    """Say what of the times of a round's work can hardly be so, at a time in the mine's zone."""
    return tuple(_doubts(work, now)) if work is not None else ()


def _doubts(work: WorkSeen, now: datetime) -> Iterator[str]:
    start, finish = work.started_at, work.finished_at
    if start is not None and start > now:
        yield f"Support is said to start at {_said(start, now)}, which is still to come"
    if finish is not None and finish > now:
        yield f"Support is said to be finished at {_said(finish, now)}, which is still to come"
    if start is None or finish is None:
        return
    if finish <= start:
        end, begin = _said(finish, now), _said(start, now)
        yield f"Support is said to be finished at {end}, no later than its start at {begin}"
    else:
        yield from _long(work, finish - start)


def _long(work: WorkSeen, took: timedelta) -> Iterator[str]:
    held_up = sum(it.minutes for it in work.delays or ())
    if took > LONGEST:
        hours = took / timedelta(hours=1)
        yield f"From start to finish that is {hours:.0f} hours, longer than a day"
    if held_up > took // _MINUTE:
        yield f"{held_up} min of delays is more than the {took // _MINUTE} min that it took"


def _said(at: datetime, now: datetime) -> str:
    """Say a time of the day, with the day where it is another one."""
    local = at.astimezone(now.tzinfo)
    clock = f"{local:%H:%M}"
    return clock if local.date() == now.date() else f"{clock} on {date_words(local)}"
