"""Where people may go: the facts of a heading gathered from the ledger, and what they mean."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal

from fieldapp.assess.entry_state import (
    EntryState,
    EventFact,
    HeadingFacts,
    RoundFact,
    entry_state,
)
from fieldapp.work.batches import in_doubt
from fieldapp.work.deviations import granted_for
from fieldapp.work.events import events
from fieldapp.work.headings import heading
from fieldapp.work.known import Known, current
from fieldapp.work.notices import inspected_at, notices
from fieldapp.work.rounds import last_row_m, rounds
from fieldapp.work.site import Site
from fieldapp.work.standard_in_force import adopted
from schemas.bodies.event import Event
from schemas.bodies.heading import Heading
from schemas.bodies.round import Round
from schemas.bodies.sign_off import Decision, SignOff
from schemas.standard import SupportClass

STRICTEST: tuple[Decision, ...] = ("accepted", "sent back", "barricaded")


@dataclass(frozen=True)
class Coverage:
    """Metres signed over metres fired."""

    signed_m: Decimal
    fired_m: Decimal


def entry(site: Site, heading_id: str, at: datetime) -> EntryState:
    """Give the entry line and the state up to the face of one heading."""
    place = heading(site, heading_id)
    happened = events(site, place.id)
    classes = _classes(site, place.body)
    none = Decimal(0)
    facts = HeadingFacts(
        last_row_m=place.body.last_row_m,
        face_m=face_m(place, happened, rounds(site, place.id)),
        face_allowance_m=min(
            (it.limits.last_row_to_face.at_most_m for it in classes), default=none
        ),
        two_rows_m=2 * max((it.pattern.row_spacing_m for it in classes), default=none),
        rounds=tuple(_round_facts(site, place.id)),
        events=tuple(EventFact(it.id, it.body, inspected_at(site, it.id)) for it in happened),
        notices=tuple(it.body for it in notices(site, place.id)),
        supported_before=place.body.supported_before,
        other_way_out=place.body.other_way_out,
    )
    return entry_state(facts, at)


def face_m(
    place: Known[Heading], happened: tuple[Known[Event], ...], seen: tuple[Known[Round], ...]
) -> Decimal:
    """Give the chainage of the face as it was last stated: surveyed, fired or measured."""
    stated = [(place.entry.made_at, place.body.face_m)]
    stated += [
        (event.entry.made_at, event.body.chainage_m + event.body.fired_m)
        for event in happened
        if event.body.fired_m is not None
    ]
    for known in seen:
        if known.body.face_readings:
            farthest = max(read.reading.value_m for read in known.body.face_readings)
            stated.append((known.entry.made_at, last_row_m(known.body) + farthest))
    return max(stated, key=lambda it: it[0])[1]


def sign_offs(site: Site, round_id: str) -> tuple[Known[SignOff], ...]:
    """Give the current sign-offs of a round."""
    return tuple(it for it in current(site, "sign_off", SignOff) if it.body.round == round_id)


def standing(site: Site, heads: Sequence[Known[Round]]) -> tuple[Known[SignOff], ...]:
    """Give the sign-offs of a round's current revisions; older ones signed something else."""
    revisions = {head.entry.revision for head in heads}
    signed = sign_offs(site, heads[0].id)
    return tuple(it for it in signed if it.body.round_revision in revisions)


def coverage(site: Site, heading_id: str) -> Coverage:
    """Give the metres signed over the metres fired."""
    fired = sum((it.body.fired_m or Decimal(0) for it in events(site, heading_id)), Decimal(0))
    accepted = {
        known.id: last_row_m(known.body) - known.body.joint_m
        for known in rounds(site, heading_id)
        if any(it.body.decision == "accepted" for it in standing(site, [known]))
    }
    return Coverage(sum(accepted.values(), Decimal(0)), fired)


def _round_facts(site: Site, heading_id: str) -> Iterator[RoundFact]:
    by_thing: dict[str, list[Known[Round]]] = {}
    for known in rounds(site, heading_id):
        by_thing.setdefault(known.id, []).append(known)
    for round_id, heads in by_thing.items():
        yield _round_fact(site, round_id, heads)


def _round_fact(site: Site, round_id: str, heads: list[Known[Round]]) -> RoundFact:
    signed = standing(site, heads)
    strictest = max(signed, key=lambda it: STRICTEST.index(it.body.decision), default=None)
    ends = [it.ends_at for it in granted_for(site, round_id)]
    seen = heads[-1].body
    relied_on_deviation = strictest is not None and bool(strictest.body.deviations)
    return RoundFact(
        round_id=round_id,
        number=seen.number,
        joint_m=seen.joint_m,
        last_row_m=last_row_m(seen),
        decision=strictest.body.decision if strictest else None,
        entry_line_m=min((it.body.entry_line_m for it in signed), default=None),
        permitted_until=min(ends, default=None) if relied_on_deviation else None,
        in_dispute=len({it.body.decision for it in signed}) > 1 or len(heads) > 1,
        batch_in_doubt=next(iter(in_doubt(site, seen)), None),
    )


def _classes(site: Site, place: Heading) -> list[SupportClass]:
    """Give the heading's class as every adopted revision has it: the strictest counts."""
    classes = [known.body.support_class(place.support_class) for known in adopted(site)]
    return [it for it in classes if it is not None]
