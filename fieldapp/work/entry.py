"""Where people may go in a heading, and how much of what was fired is signed."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import datetime
from decimal import Decimal
from zoneinfo import ZoneInfo

from fieldapp.assess.entry_state import EntryState, entry_state
from fieldapp.work.heading_record import heading_record
from fieldapp.work.headings import heading
from fieldapp.work.rounds import open_rounds
from fieldapp.work.site import Site


@dataclass(frozen=True)
class Coverage:
    """Metres signed over metres fired."""

    signed_m: Decimal
    fired_m: Decimal


def entry(site: Site, heading_id: str, at: datetime) -> EntryState:
    """Give the entry line and the state up to the face of one heading.

    What the drafts of this tablet say by now has its say beside what is recorded.
    """
    place_id = heading(site, heading_id).id
    recorded = heading_record(site, place_id).facts
    again = frozenset(_looked_at_again(site, place_id))
    facts = replace(
        recorded,
        newest_at=site.store.ledger.newest_made_at(),
        rounds=tuple(
            replace(it, looked_at_again=True) if it.round_id in again else it
            for it in recorded.rounds
        ),
    )
    return entry_state(facts, at.astimezone(ZoneInfo(site.settings.zone)))


def coverage(site: Site, heading_id: str) -> Coverage:
    """Give the metres signed over the metres fired."""
    record = heading_record(site, heading_id)
    signed: dict[int, Decimal] = {}
    for fact in record.facts.rounds:
        advance_m = fact.last_row_m - fact.joint_m if fact.decision == "accepted" else Decimal(0)
        signed[fact.number] = min(advance_m, signed.get(fact.number, advance_m))
    return Coverage(sum(signed.values(), Decimal(0)), record.fired_m)


def _looked_at_again(site: Site, heading_id: str) -> Iterator[str]:
    """Yield the recorded rounds whose drafts on this tablet say something else by now."""
    for draft in open_rounds(site, heading_id):
        if draft.work.parents and draft.work.can_undo:
            yield draft.work.round_id
