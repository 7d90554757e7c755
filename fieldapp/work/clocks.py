"""Whose clock was found to be off, and which of the times that people see are in doubt by that."""

from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Final

from fieldapp.store.own_clock import note_in
from fieldapp.work.site import Site
from schemas.bodies.clock_note import ClockNote
from schemas.entry import Entry

TOLD_FOR: Final = timedelta(days=7)
"""So long it is shown that a clock was off."""
DOUBTED_BEFORE: Final = timedelta(days=1)
"""Since when a clock was behind nobody knows: so much before it was found is doubted."""


@dataclass(frozen=True)
class Noted:
    """A tablet said that its own clock was off."""

    by: str
    made_at: datetime
    """When, by that clock."""
    note: ClockNote

    def doubts(self, at: datetime) -> bool:
        """Whether a time that the tablet gave may be off by as much."""
        if self.note.found == "put back":
            return self.note.said <= at <= self.note.known
        return self.note.said - DOUBTED_BEFORE <= at <= self.note.said


def noted(site: Site) -> tuple[Noted, ...]:
    """Give what tablets said of their own clocks, the newest first."""
    said = site.store.holdings.said_of_clocks()
    read = ((by, entry, note_in(entry)) for by, entry in reversed(said))
    return tuple(Noted(by, it.made_at, note) for by, it, note in read if note is not None)


def noted_lately(site: Site) -> tuple[Noted, ...]:
    """Give what was said so lately that it is shown, the newest first."""
    now = site.now()
    return tuple(it for it in noted(site) if abs(now - it.made_at) < TOLD_FOR)


def ahead(site: Site) -> Mapping[str, datetime]:
    """Give the tablets that gave a time that is still to come here, each with its latest."""
    return site.store.holdings.ahead_of(site.now())


def doubted(site: Site) -> Callable[[Entry], bool]:
    """Give what tells of an entry whether the time it was made at is in doubt."""
    notes, ledger = noted(site), site.store.ledger
    own = site.store.holdings.own_tablets() if notes else ()

    def is_doubted(entry: Entry) -> bool:
        by = ledger.origin(entry.revision) if notes else None
        return any(_is_by(it, by, own) and it.doubts(entry.made_at) for it in notes)

    return is_doubted


def _is_by(noted: Noted, tablet: str | None, own: Collection[str]) -> bool:
    """Whether a tablet, None for this one, said it."""
    return noted.by in own if tablet is None or tablet in own else noted.by == tablet
