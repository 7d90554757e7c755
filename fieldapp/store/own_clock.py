"""Whether this tablet's clock was off, by what it stated itself and by what others stated.

Found when entries are sealed, so that the note about their times goes out with them. A clock
that was put forward shows in nothing but its being put back later, or in others' times.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from datetime import datetime, timedelta
from typing import Final

from pydantic import ValidationError
from sqlalchemy import ColumnElement, Connection, func, select

from fieldapp.store.own_words import moments, own_word, words_of
from fieldapp.store.sealing import is_waiting, sealed_up_to
from fieldapp.store.tables import SITE, EntryRow
from schemas.bodies.clock_note import ClockNote
from schemas.entry import Entry
from schemas.logical_clock import FARTHEST_HEARD_MS
from sync.labels import sortable_time

CLOCK_NOTE = "clock_note"
SLACK: Final = timedelta(milliseconds=FARTHEST_HEARD_MS)
"""A clock that is off by less is no news: it is put right by so much each day."""
SAID_AGAIN_AFTER: Final = timedelta(days=1)
"""That a clock is still behind is said so often; sooner where it is twice as far behind."""
WITNESSES: Final = 2
"""One other tablet with a clock years ahead may not have everybody state that theirs is behind."""


class OwnClock:
    """The clock of this tablet, by what is in the ledger.

    Parameters
    ----------
    connection : Connection
        The caller's transaction.
    tablet : str
        The id that this tablet goes by now.
    own : sequence of str
        All ids that it went by.
    """

    def __init__(self, connection: Connection, tablet: str, own: Sequence[str]) -> None:
        self._connection = connection
        self._tablet = tablet
        self._own = own
        self._is_ours: ColumnElement[bool] = EntryRow.origin.is_(None) | EntryRow.origin.in_(own)
        self._is_another_s = EntryRow.origin.not_in([*own, SITE])

    def notes(self, now: datetime, random_bytes: Callable[[int], bytes]) -> Sequence[Entry]:
        """Write what is to be said of the clock, without keeping it; nothing if none waits."""
        waiting = self._times(*is_waiting())
        if not waiting:
            return ()
        found = [*steps_back(self._latest_said(), waiting), *self._behind(now)]
        at = moments(self._connection, self._tablet, now)
        return [own_word(CLOCK_NOTE, it, next(at), random_bytes) for it in found]

    def ahead_of(self, now: datetime) -> Mapping[str, datetime]:
        """Give the other tablets that gave a time after this one and its slack: the latest."""
        row = EntryRow
        later = row.made_at > sortable_time(now + SLACK)
        latest = select(row.origin, func.max(row.made_at)).where(
            later, row.counts, self._is_another_s
        )
        found = self._connection.execute(latest.group_by(row.origin))
        return {tablet: datetime.fromisoformat(made_at) for tablet, made_at in found if tablet}

    def _behind(self, now: datetime) -> Iterator[ClockNote]:
        """Yield that the clock is behind what two others gave, unless that was just said."""
        later = sorted(self.ahead_of(now).values(), reverse=True)[:WITNESSES]
        if len(later) < WITNESSES:
            return
        known = later[-1]
        said = (it for it in self._own_notes() if it.found == "behind")
        last = max(said, key=lambda it: it.said, default=None)
        is_old = last is None or abs(now - last.said) >= SAID_AGAIN_AFTER
        if is_old or (last is not None and known - now >= 2 * (last.known - last.said)):
            yield ClockNote(found="behind", said=now, known=known)

    def _latest_said(self) -> datetime | None:
        """Give the latest time that was sealed here since the last note about the clock."""
        noted = select(func.coalesce(func.max(EntryRow.sequence), 0)).where(
            EntryRow.kind == CLOCK_NOTE, self._is_ours
        )
        between = EntryRow.sequence >= noted.scalar_subquery()
        sealed = EntryRow.sequence <= sealed_up_to()
        query = select(EntryRow.made_at).where(self._is_ours, between, sealed)
        newest = query.order_by(EntryRow.made_at.desc()).limit(1)
        found = self._connection.execute(newest).scalar_one_or_none()
        return datetime.fromisoformat(found) if found else None

    def _times(self, *wanted: ColumnElement[bool]) -> Sequence[datetime]:
        query = select(EntryRow.made_at).where(*wanted).order_by(EntryRow.sequence)
        return [datetime.fromisoformat(it) for it in self._connection.execute(query).scalars()]

    def _own_notes(self) -> Iterator[ClockNote]:
        said = words_of(self._connection, CLOCK_NOTE)
        own = (note_in(entry) for by, entry in said if by in self._own)
        return (it for it in own if it is not None)


def steps_back(before: datetime | None, stated: Iterable[datetime]) -> Iterator[ClockNote]:
    """Yield where times that were stated one after the other go back by more than the slack."""
    latest = before
    for at in stated:
        if latest is not None and at < latest - SLACK:
            yield ClockNote(found="put back", said=at, known=latest)
            latest = at
        latest = at if latest is None else max(latest, at)


def note_in(entry: Entry) -> ClockNote | None:
    """Read a note; what only a newer version can read says nothing here."""
    try:
        return ClockNote.model_validate(dict(entry.body))
    except ValidationError:
        return None
