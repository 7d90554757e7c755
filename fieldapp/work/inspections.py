"""What was inspected after an event, and what shook the ground and waits for it."""

from collections.abc import Iterable
from datetime import datetime
from typing import Final

from fieldapp.assess.entry.facts import EventFact
from fieldapp.work.events import events
from fieldapp.work.known import Known, current
from fieldapp.work.site import Sight
from schemas.bodies.entry_notice import EntryNotice
from schemas.bodies.event import Event

SHAKES: Final = ("seismic", "nearby blast", "fall of ground", "vehicle strike")
"""After these nobody knows what support still carries, until somebody has looked."""


def inspections(known: Iterable[Known[EntryNotice]]) -> dict[str, datetime]:
    """Give when each event was last inspected after."""
    found: dict[str, datetime] = {}
    for it in known:
        if it.body.what == "inspected":
            for event_id in it.body.lifts:
                found[event_id] = max(it.entry.made_at, found.get(event_id, it.entry.made_at))
    return found


def shaken_by(site: Sight, heading_id: str, as_at: datetime) -> tuple[Known[Event], ...]:
    """Give what shook a heading by a time, and nobody had inspected after by then."""
    said = current(site, "entry_notice", EntryNotice, heading=heading_id)
    looked = inspections(it for it in said if it.entry.made_at <= as_at)
    return tuple(
        it
        for it in events(site, heading_id)
        if it.body.what in SHAKES
        and it.body.at <= as_at
        and not EventFact(it.id, it.body, looked.get(it.id)).is_over(as_at)
    )
