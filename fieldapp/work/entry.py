"""Where people may go: the facts of a heading gathered from the ledger, and what they mean."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from decimal import Decimal
from zoneinfo import ZoneInfo

from fieldapp.assess.entry_facts import EventFact, HeadingFacts, RoundFact
from fieldapp.assess.entry_state import EntryState, entry_state
from fieldapp.work.authority import counting
from fieldapp.work.batches import in_doubt
from fieldapp.work.deviations import granted_for
from fieldapp.work.events import events
from fieldapp.work.face import Face, first_stated, followed
from fieldapp.work.headings import heading, strictest_of
from fieldapp.work.known import Known, current, stated, unreadable
from fieldapp.work.notices import ENDED, inspections
from fieldapp.work.rounds import last_row_m, open_rounds, rounds
from fieldapp.work.signed import believed, not_believed, strictest
from fieldapp.work.site import Site
from fieldapp.work.standard_in_force import adopted
from schemas.bodies.entry_notice import EntryNotice
from schemas.bodies.event import Event
from schemas.bodies.heading import Heading
from schemas.bodies.round import Round
from schemas.bodies.sign_off import SignOff
from schemas.standard import SupportClass

TWO_ROWS_WITHOUT_A_STANDARD_M = Decimal(30)
"""How far back a firing reaches where no standard says how rows are spaced."""

READ_FOR_ENTRY = ("round", "sign_off", "event", "entry_notice")


@dataclass(frozen=True)
class Coverage:
    """Metres signed over metres fired."""

    signed_m: Decimal
    fired_m: Decimal


def entry(site: Site, heading_id: str, at: datetime) -> EntryState:
    """Give the entry line and the state up to the face of one heading."""
    place_id = heading(site, heading_id).id
    place = strictest_of(site, place_id)
    happened, seen = events(site, place_id), rounds(site, place_id)
    the_face = followed(place.face_m, happened, first_stated(site, seen))
    said = current(site, "entry_notice", EntryNotice, heading=place_id)
    spacings = [it.pattern.row_spacing_m for it in _classes(site, place)]
    facts = HeadingFacts(
        last_row_m=place.last_row_m,
        face_m=the_face.chainage_m,
        face_allowance_m=_face_allowance_m(site, place),
        two_rows_m=2 * max(spacings, default=TWO_ROWS_WITHOUT_A_STANDARD_M / 2),
        rounds=tuple(_round_facts(site, place_id, seen)),
        events=tuple(_event_facts(happened, said, the_face)),
        notices=tuple(it.body for it in said if it.body.what not in ENDED),
        newest_at=site.store.ledger.newest_made_at(),
        unread=tuple(_unread(site, place_id)),
        supported_before=place.supported_before,
        other_way_out=place.other_way_out,
    )
    return entry_state(facts, at.astimezone(ZoneInfo(site.settings.zone)))


def coverage(site: Site, heading_id: str) -> Coverage:
    """Give the metres signed over the metres fired."""
    fired = sum((it.body.fired_m or Decimal(0) for it in events(site, heading_id)), Decimal(0))
    signed: dict[int, Decimal] = {}
    for fact in _round_facts(site, heading_id, rounds(site, heading_id)):
        advance_m = fact.last_row_m - fact.joint_m if fact.decision == "accepted" else Decimal(0)
        signed[fact.number] = min(advance_m, signed.get(fact.number, advance_m))
    return Coverage(sum(signed.values(), Decimal(0)), fired)


def _round_facts(site: Site, heading_id: str, seen: Sequence[Known[Round]]) -> Iterator[RoundFact]:
    """Yield a fact a round, with what the drafts of this tablet say of it by now."""
    again = frozenset(_looked_at_again(site, heading_id))
    question = ("round facts", heading_id)
    for fact in counting(site).remembered(
        question, lambda: tuple(_recorded_facts(site, heading_id, seen))
    ):
        yield replace(fact, looked_at_again=True) if fact.round_id in again else fact


def _recorded_facts(
    site: Site, heading_id: str, seen: Sequence[Known[Round]]
) -> Iterator[RoundFact]:
    """Yield what the ledger says of each round.

    One that two people recorded under the same number and signed differently is in dispute,
    like one that two people revised.
    """
    signed, heads = defaultdict(list), defaultdict(list)
    for it in stated(site, "sign_off", SignOff, heading=heading_id):
        signed[it.body.round_revision].append(it)
    for known in seen:
        heads[known.id].append(known)
    facts = [_round_fact(site, of_one, _signed(of_one, signed)) for of_one in heads.values()]
    decided = defaultdict(set)
    for fact in facts:
        decided[fact.number].update({fact.decision} - {None})
    for fact in facts:
        yield replace(fact, in_dispute=fact.in_dispute or len(decided[fact.number]) > 1)


def _signed(
    heads: Iterable[Known[Round]], signed: Mapping[str, list[Known[SignOff]]]
) -> list[Known[SignOff]]:
    """Give what signed one of these very revisions, in the order in which it was signed."""
    revisions = dict.fromkeys(head.entry.revision for head in heads)
    found = [it for revision in revisions for it in signed.get(revision, ())]
    return sorted(found, key=lambda it: (it.entry.clock, it.entry.revision))


def _round_fact(
    site: Site, heads: list[Known[Round]], of_these: Sequence[Known[SignOff]]
) -> RoundFact:
    signed = believed(site, of_these)
    decisions = {it.body.decision for it in signed}
    last_m = min(last_row_m(it.body) for it in heads)
    return RoundFact(
        round_id=heads[0].id,
        number=heads[-1].body.number,
        joint_m=min(it.body.joint_m for it in heads),
        last_row_m=last_m,
        decision=strictest(signed),
        entry_line_m=min([*(it.body.entry_line_m for it in signed), last_m]) if signed else None,
        permitted_until=_permitted_until(site, signed),
        in_dispute=len(decisions) > 1 or len(heads) > 1,
        not_believed=not_believed(site, of_these),
        batches_in_doubt=in_doubt(site, heads[-1].body),
    )


def _permitted_until(site: Site, signed: Sequence[Known[SignOff]]) -> datetime | None:
    """Give when the first deviation ends that a sign-off stands on; one withdrawn has ended."""
    ends = []
    for it in signed:
        if it.body.deviations:
            granted = (one.ends_at for one in granted_for(site, it.body.round))
            later = [end for end in granted if end > it.body.judged_at]
            ends.append(min(later, default=it.body.judged_at))
    return min(ends, default=None)


def _looked_at_again(site: Site, heading_id: str) -> Iterator[str]:
    """Yield the recorded rounds whose drafts on this tablet say something else by now."""
    for draft in open_rounds(site, heading_id):
        if draft.work.parents and draft.work.can_undo:
            yield draft.work.round_id


def _event_facts(
    happened: Sequence[Known[Event]], said: Sequence[Known[EntryNotice]], the_face: Face
) -> Iterator[EventFact]:
    looked = inspections(said)
    for it in happened:
        yield EventFact(it.id, it.body, looked.get(it.id), the_face.before_m.get(it.id))


def _unread(site: Site, heading_id: str) -> Iterator[str]:
    for kind in READ_FOR_ENTRY:
        if unreadable(site, kind, heading_id):
            yield f"something ({kind.replace('_', ' ')})"


def _face_allowance_m(site: Site, place: Heading) -> Decimal:
    limits = (it.limits.last_row_to_face.at_most_m for it in _classes(site, place))
    return min(limits, default=Decimal(0))


def _classes(site: Site, place: Heading) -> list[SupportClass]:
    """Give the heading's class as every adopted revision has it: the strictest counts."""
    classes = [known.body.support_class(place.support_class) for known in adopted(site)]
    return [it for it in classes if it is not None]
