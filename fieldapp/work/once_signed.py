"""Where people may go once a round is signed: what a decision promises, before it is made.

A sign-off decides on its round and on nothing else: open events, notices and other rounds hold
entry after it as they did before.
"""

from dataclasses import replace
from datetime import datetime

from fieldapp.assess.covered import departs
from fieldapp.assess.entry_facts import Granted, RoundFact
from fieldapp.assess.entry_state import EntryState
from fieldapp.assess.readings import last_row_m
from fieldapp.work.entry import entry_by, with_drafts
from fieldapp.work.events import events
from fieldapp.work.face import first_stated, followed
from fieldapp.work.gathering import HeadingRecord, along, disputed, over_old_support
from fieldapp.work.heading_record import heading_record
from fieldapp.work.known import Known
from fieldapp.work.round import RoundWork
from fieldapp.work.rounds import open_rounds, rounds
from fieldapp.work.sign import barricading, deviations_used, entry_line_by
from fieldapp.work.site import Site
from fieldapp.work.writing import written
from schemas.bodies.sign_off import Decision
from schemas.findings import Assessment


def once_signed(
    site: Site, work: RoundWork, assessment: Assessment, decision: Decision, at: datetime
) -> EntryState:
    """Give the entry of a round's heading as it will be once this decision is signed.

    Where another round of its number was decided otherwise, both are in dispute as before.
    """
    place = heading_record(site, work.seen.heading)
    record = with_drafts(place, open_rounds(site, place.heading_id))
    others = [fact for fact in record.rounds if fact.round_id != work.round_id]
    decided = tuple(disputed([*others, _fact(work, assessment, decision)]))
    record = _measured(site, work, replace(record, rounds=decided))
    if decision == "barricaded":
        notice = barricading(work.seen, entry_line_by(work, assessment, decision))
        record = replace(record, notices=(*record.notices, notice))
    return entry_by(site, record, at)


def _measured(site: Site, work: RoundWork, record: HeadingRecord) -> HeadingRecord:
    """Give the record with the face where this round's readings take it."""
    stated = written(
        site, "round", work.seen, author=None, thing_id=work.round_id, parents=work.parents
    )
    others = [it for it in rounds(site, record.heading_id) if it.id != work.round_id]
    seen = first_stated(site, [*others, Known(stated, work.seen)])
    face = followed(record.place.face_m, events(site, record.heading_id), seen)
    return along(record, face)


def _fact(work: RoundWork, assessment: Assessment, decision: Decision) -> RoundFact:
    """Give the round as it will count."""
    last_m = last_row_m(work.seen)
    used = deviations_used(work, assessment)
    return RoundFact(
        round_id=work.round_id,
        number=work.seen.number,
        joint_m=work.seen.joint_m,
        last_row_m=last_m,
        decision=decision,
        entry_line_m=min(entry_line_by(work, assessment, decision), last_m),
        permitted_until=min((it.ends_at for it in used), default=None),
        deviations=tuple(Granted(departs(it), it.ends_at) for it in used),
        batches=tuple(work.seen.bolter.batches or ()),
        **over_old_support([work.seen]),
    )
