"""Where people may go in a heading, and how much of what was fired is signed."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime
from decimal import Decimal
from zoneinfo import ZoneInfo

from fieldapp.assess.entry.damage import repair_fact
from fieldapp.assess.entry.facts import HeadingFacts
from fieldapp.assess.entry.state import EntryState, entry_state
from fieldapp.work.authority import counting
from fieldapp.work.batches import in_doubt
from fieldapp.work.bolt_test_record import failed_tests
from fieldapp.work.damage_record import damages_holding, judge
from fieldapp.work.gathering import HeadingRecord
from fieldapp.work.heading_record import heading_record
from fieldapp.work.headings import heading
from fieldapp.work.intersection.judged import cables_facts
from fieldapp.work.revoked import is_revoked
from fieldapp.work.rounds import OpenRound, open_rounds
from fieldapp.work.site import Sight, Site
from fieldapp.work.standard_in_force import adopted
from schemas.bodies.heading import Heading
from schemas.standard import SupportClass

TWO_ROWS_WITHOUT_A_STANDARD_M = Decimal(30)
"""How far back a firing reaches where no standard says how rows are spaced."""


def entry(site: Site, heading_id: str, at: datetime) -> EntryState:
    """Give the entry line and the state up to the face of one heading.

    What the drafts of this tablet say by now has its say beside what is recorded.
    """
    record = heading_record(site, heading(site, heading_id).id)
    return entry_by(site, with_drafts(record, open_rounds(site, record.heading_id)), at)


def entry_by(site: Sight, record: HeadingRecord, at: datetime) -> EntryState:
    """Give the entry line and the state up to the face by what is recorded of a heading."""
    facts = heading_facts(site, record, at)
    return entry_state(facts, at.astimezone(ZoneInfo(site.settings.zone)))


def heading_facts(site: Sight, record: HeadingRecord, at: datetime) -> HeadingFacts:
    """Give everything that entry into a heading follows from at a time."""
    lacking = counting(site).lacking
    classes = _classes(site, record.place)
    spacings = [it.pattern.row_spacing_m for it in classes]
    allowances = [it.limits.last_row_to_face.at_most_m for it in classes]
    return HeadingFacts(
        last_row_m=record.place.last_row_m,
        face_m=record.face_m,
        fired_from_m=record.fired_from_m,
        face_read_m=record.face_read_m,
        face_allowance_m=min(allowances, default=Decimal(0)),
        two_rows_m=2 * max(spacings, default=TWO_ROWS_WITHOUT_A_STANDARD_M / 2),
        rounds=record.rounds,
        events=record.events,
        notices=record.notices,
        damages=damages_holding(
            judge(site, record.place.support_class, at), record.damages, record.rehabs, at
        ),
        repairs=tuple(repair_fact(it.id, it.rehab) for it in record.rehabs),
        cables=cables_facts(site, record.intersections, record.events, at),
        newest_at=_newest_at(site),
        unread=record.unread,
        revoked=isinstance(site, Site) and is_revoked(site),
        not_whole=lacking is not None and lacking.touches(record.heading_id),
        batches_in_doubt=in_doubt(site),
        failed_tests=failed_tests(site, record.tests, record.damages),
        supported_before=record.place.supported_before,
        other_way_out=record.place.other_way_out,
    )


def has_ended(site: Sight, until: datetime | None, at: datetime) -> bool:
    """Tell whether a permission is over, also by a clock that was set back since."""
    newest = _newest_at(site)
    return until is not None and (at if newest is None else max(at, newest)) >= until


def _newest_at(site: Sight) -> datetime | None:
    return counting(site).remembered("newest", site.store.ledger.newest_made_at)


def with_drafts(record: HeadingRecord, drafts: Sequence[OpenRound]) -> HeadingRecord:
    """Give the record with those rounds marked of which drafts here say something else by now."""
    again = {it.work.round_id for it in drafts if it.work.parents and it.work.can_undo}
    rounds = (
        replace(fact, looked_at_again=True) if fact.round_id in again else fact
        for fact in record.rounds
    )
    return replace(record, rounds=tuple(rounds))


def _classes(site: Sight, place: Heading) -> list[SupportClass]:
    """Give the heading's class as every adopted revision has it: the strictest counts."""
    classes = [known.body.support_class(place.support_class) for known in adopted(site)]
    return [it for it in classes if it is not None]
