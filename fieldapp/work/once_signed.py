"""Where people may go once a round is signed: what a decision promises, before it is made.

A sign-off decides on its round and on nothing else: open events, notices and other rounds hold
entry after it as they did before.
"""

from dataclasses import replace
from datetime import datetime

from fieldapp.assess.covered import departs
from fieldapp.assess.entry.facts import Granted, NoticeFact, RoundFact
from fieldapp.assess.entry.state import EntryState
from fieldapp.work.entry import entry_by, with_drafts
from fieldapp.work.events import events
from fieldapp.work.face import first_stated, followed, surveyed
from fieldapp.work.gathering import HeadingRecord, along, disputed, over_old_support
from fieldapp.work.heading_record import heading_record
from fieldapp.work.known import Known, known_by
from fieldapp.work.round import RoundWork
from fieldapp.work.round_ends import ends_m, torn_at_m
from fieldapp.work.rounds import open_rounds, rounds
from fieldapp.work.sign import barricading, deviations_used, entry_line_by
from fieldapp.work.site import Site
from fieldapp.work.writing import written
from schemas.bodies.round import Round
from schemas.bodies.sign_off import Decision
from schemas.findings import Assessment


def once_signed(
    site: Site, work: RoundWork, assessment: Assessment, decision: Decision, at: datetime
) -> EntryState:
    """Give the entry of a round's heading as it will be once this decision is signed.

    Where another round of its number was decided otherwise, both are in dispute as before.
    """
    here = _stated(site, work)
    place = heading_record(site, work.seen.heading)
    record = with_drafts(place, open_rounds(site, place.heading_id))
    others = [fact for fact in record.rounds if fact.round_id != work.round_id]
    decided = tuple(disputed([*others, _fact(here, work, assessment, decision)]))
    record = _measured(site, here, replace(record, rounds=decided))
    if decision == "barricaded":
        line_m = here.today_m(entry_line_by(work, assessment, decision))
        notice = barricading(work.seen, line_m)
        record = replace(record, notices=(*record.notices, NoticeFact(notice)))
    return entry_by(site, record, at)


def _stated(site: Site, work: RoundWork) -> Known[Round]:
    """Give the round as it will stand in the record."""
    entry = written(
        site, "round", work.seen, author=None, thing_id=work.round_id, parents=work.parents
    )
    return known_by(site, entry, work.seen)


def _measured(site: Site, here: Known[Round], record: HeadingRecord) -> HeadingRecord:
    """Give the record with the face where this round's readings take it."""
    others = [it for it in rounds(site, record.heading_id) if it.id != here.id]
    seen = first_stated(site, [*others, here])
    entered = surveyed(site, record.heading_id)
    face = followed(entered, events(site, record.heading_id), seen)
    return along(record, face)


def _fact(
    here: Known[Round], work: RoundWork, assessment: Assessment, decision: Decision
) -> RoundFact:
    """Give the round as it will count."""
    last_m, used = ends_m(here), deviations_used(work, assessment)
    line_m = here.today_m(entry_line_by(work, assessment, decision))
    return RoundFact(
        round_id=work.round_id,
        number=work.seen.number,
        joint_m=here.body.joint_m,
        torn_at_m=torn_at_m(here),
        last_row_m=last_m,
        decision=decision,
        entry_line_m=min(line_m, last_m),
        permitted_until=min((it.ends_at for it in used), default=None),
        deviations=tuple(Granted(departs(it), it.ends_at) for it in used),
        batches=tuple(work.seen.bolter.batches or ()),
        **over_old_support([here.body]),
    )
