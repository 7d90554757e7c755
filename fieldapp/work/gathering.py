"""What the ledger says of one heading: the facts that entry depends on, and its last round."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from decimal import Decimal
from typing import TypedDict

from fieldapp.assess.covered import covers, departs
from fieldapp.assess.entry.facts import EventFact, Granted, NoticeFact, RoundFact
from fieldapp.work.authority import counting
from fieldapp.work.beyond import Beyond, beyond_of
from fieldapp.work.bolt_test_record import StatedTest, stated_tests
from fieldapp.work.damage_record import SeenDamage, StatedRehab, seen_damages, stated_rehabs
from fieldapp.work.deviations import granted_for
from fieldapp.work.events import events
from fieldapp.work.face import Face, first_stated, followed, surveyed
from fieldapp.work.headings import strictest_of
from fieldapp.work.inspections import inspections
from fieldapp.work.intersection.record import StatedIntersection, stated_intersections
from fieldapp.work.known import Known, current, stated, unreadable
from fieldapp.work.notices import ENDED
from fieldapp.work.round_ends import ends_m, torn_at_m
from fieldapp.work.rounds import rounds
from fieldapp.work.signed import believed, not_believed, strictest
from fieldapp.work.site import Sight
from schemas.bodies.entry_notice import EntryNotice
from schemas.bodies.event import Event
from schemas.bodies.heading import Heading
from schemas.bodies.round import Round
from schemas.bodies.sign_off import Decision, SignOff

READ_FOR_ENTRY = ("round", "sign_off", "event", "entry_notice", "damage", "rehab", "intersection")
READ_BESIDE_ENTRY = ("bolt_test", "looked_into", "told")
"""What closes nothing by itself, also where only a newer version can read it."""


@dataclass(frozen=True)
class SignedRound:
    """A round as its current revision has it, and what was signed for that revision."""

    round_id: str
    number: int
    recorded_at: datetime
    decisions: tuple[Decision, ...]
    signed_at: datetime | None
    """When the last of them was signed."""


@dataclass(frozen=True)
class HeadingRecord:
    """What the entries about a heading come to, before drafts and the clock have their say."""

    heading_id: str
    place: Heading
    """The heading as the strictest of its current revisions has each of its facts."""
    face_m: Decimal
    fired_from_m: Decimal
    face_read_m: Decimal | None
    rounds: tuple[RoundFact, ...]
    events: tuple[EventFact, ...]
    notices: tuple[NoticeFact, ...]
    """Current ones; lifted ones are left out."""
    damages: tuple[SeenDamage, ...]
    rehabs: tuple[StatedRehab, ...]
    intersections: tuple[StatedIntersection, ...]
    tests: tuple[StatedTest, ...]
    """Of its support."""
    unread: tuple[str, ...]
    last_fired_at: datetime | None
    last_rounds: tuple[SignedRound, ...]
    """Every current revision that bears the number of the round nearest the face, the nearest
    last; several where two people recorded it."""
    beyond: tuple[Beyond, ...]
    """Rounds in which somebody went beyond the last row, and nobody has looked into it."""

    def fired_after(self, at: datetime) -> datetime | None:
        """Give when a round was fired last, if that was after a time."""
        fired_at = self.last_fired_at
        return fired_at if fired_at is not None and fired_at > at else None


def gathered(site: Sight, heading_id: str) -> HeadingRecord:
    """Gather what the ledger says of a heading, reading everything that was stated of it."""
    place = strictest_of(site, heading_id)
    happened, seen = events(site, heading_id), rounds(site, heading_id)
    the_face = followed(surveyed(site, heading_id), happened, first_stated(site, seen))
    said = current(site, "entry_notice", EntryNotice, heading=heading_id)
    signed = _by_revision(site, heading_id)
    fired = [it.body for it in happened if it.body.what == "fired"]
    at_first = HeadingRecord(
        heading_id=heading_id,
        place=place,
        face_m=place.face_m,
        fired_from_m=place.face_m,
        face_read_m=None,
        rounds=tuple(_round_facts(site, seen, signed)),
        events=tuple(_event_facts(happened, said)),
        notices=tuple(
            NoticeFact(it.body, it.chaining.doubt_m) for it in said if it.body.what not in ENDED
        ),
        damages=seen_damages(site, heading_id),
        rehabs=stated_rehabs(site, heading_id),
        intersections=stated_intersections(site, heading_id),
        tests=stated_tests(site, heading_id),
        unread=tuple(_unread(site, heading_id)),
        last_fired_at=max((it.at for it in fired), default=None),
        last_rounds=tuple(_last_rounds(site, seen, signed)),
        beyond=beyond_of(site, heading_id, seen),
    )
    return along(at_first, the_face)


def along(record: HeadingRecord, face: Face) -> HeadingRecord:
    """Give the record with the face, and where it was along the way, as they were followed."""
    return replace(
        record,
        face_m=face.chainage_m,
        fired_from_m=face.fired_from_m,
        face_read_m=face.read_m,
        rounds=tuple(
            it if it.over_old else replace(it, face_m=face.after_m[it.round_id])
            for it in record.rounds
        ),
        events=tuple(
            replace(it, face_before_m=face.before_m.get(it.event_id)) for it in record.events
        ),
    )


def _by_revision(site: Sight, heading_id: str) -> Mapping[str, list[Known[SignOff]]]:
    signed = defaultdict(list)
    for it in stated(site, "sign_off", SignOff, heading=heading_id):
        signed[it.body.round_revision].append(it)
    return signed


def _round_facts(
    site: Sight, seen: Sequence[Known[Round]], signed: Mapping[str, list[Known[SignOff]]]
) -> Iterator[RoundFact]:
    """Yield a fact a round.

    One that two people recorded under the same number and signed differently is in dispute,
    like one that two people revised, or that one revised and another withdrew.
    """
    heads = defaultdict(list)
    for known in seen:
        heads[known.id].append(known)
    facts = [_round_fact(site, of_one, _signed(of_one, signed)) for of_one in heads.values()]
    yield from disputed(facts)


def disputed(facts: Sequence[RoundFact]) -> Iterator[RoundFact]:
    """Yield each round, in dispute too where another of its number was decided otherwise."""
    decided = defaultdict(set)
    for fact in facts:
        decided[fact.same].update({fact.decision} - {None})
    for fact in facts:
        yield replace(fact, in_dispute=fact.in_dispute or len(decided[fact.same]) > 1)


def _signed(
    heads: Iterable[Known[Round]], signed: Mapping[str, list[Known[SignOff]]]
) -> list[Known[SignOff]]:
    """Give what signed one of these very revisions, in the order in which it was signed."""
    revisions = dict.fromkeys(head.entry.revision for head in heads)
    found = [it for revision in revisions for it in signed.get(revision, ())]
    return sorted(found, key=lambda it: (it.entry.clock, it.entry.revision))


def _round_fact(
    site: Sight, heads: list[Known[Round]], of_these: Sequence[Known[SignOff]]
) -> RoundFact:
    signed = believed(site, of_these)
    decisions = {it.body.decision for it in signed}
    last_m = min(map(ends_m, heads))
    return RoundFact(
        round_id=heads[0].id,
        number=heads[-1].body.number,
        joint_m=min(it.body.joint_m for it in heads),
        torn_at_m=next(filter(None, map(torn_at_m, heads)), None),
        last_row_m=last_m,
        decision=strictest(signed),
        entry_line_m=min([*(it.body.entry_line_m for it in signed), last_m]) if signed else None,
        permitted_until=_permitted_until(site, signed),
        deviations=tuple(_deviations(site, signed)),
        in_dispute=len(decisions) > 1 or len(heads) > 1 or heads[0].id in counting(site).contested,
        not_believed=not_believed(site, of_these),
        batches=tuple(heads[-1].body.bolter.batches or ()),
        **over_old_support([it.body for it in heads]),
    )


class OverOldSupport(TypedDict, total=False):
    """What a fact says of a round over old support; nothing of one of an advance."""

    over_old: bool
    after: tuple[str, ...]
    face_m: Decimal


def over_old_support(heads: Sequence[Round]) -> OverOldSupport:
    """Give what entry needs to know of a round over old support: the strictest of its heads."""
    over = [it.over for it in heads if it.over is not None]
    if not over:
        return OverOldSupport()
    answered = set(over[0].after).intersection(*(it.after for it in over))
    return OverOldSupport(
        over_old=True, after=tuple(sorted(answered)), face_m=min(it.to_m for it in over)
    )


def _permitted_until(site: Sight, signed: Sequence[Known[SignOff]]) -> datetime | None:
    """Give when the first deviation ends that a sign-off stands on; one withdrawn has ended."""
    ends = []
    for it in signed:
        if it.body.deviations:
            granted = (one.ends_at for one in granted_for(site, it.body.round))
            later = [end for end in granted if end > it.body.judged_at]
            ends.append(min(later, default=it.body.judged_at))
    return min(ends, default=None)


def _deviations(site: Sight, signed: Sequence[Known[SignOff]]) -> Iterator[Granted]:
    """Yield the deviations that sign-offs name, as far as nobody has withdrawn them."""
    named = " ".join(name for it in signed for name in it.body.deviations)
    if named:
        for one in granted_for(site, signed[0].body.round):
            if covers(one, named):
                yield Granted(departs(one), one.ends_at)


def _last_rounds(
    site: Sight, seen: Sequence[Known[Round]], signed: Mapping[str, list[Known[SignOff]]]
) -> Iterator[SignedRound]:
    advances = [it for it in seen if it.body.over is None]
    for known in advances:
        if known.body.number == advances[-1].body.number:
            these = believed(site, signed.get(known.entry.revision, ()))
            yield SignedRound(
                round_id=known.id,
                number=known.body.number,
                recorded_at=known.entry.made_at,
                decisions=tuple(it.body.decision for it in these),
                signed_at=these[-1].entry.made_at if these else None,
            )


def _event_facts(
    happened: Sequence[Known[Event]], said: Sequence[Known[EntryNotice]]
) -> Iterator[EventFact]:
    looked = inspections(said)
    for it in happened:
        yield EventFact(it.id, it.body, looked.get(it.id), doubt_m=it.chaining.doubt_m)


def _unread(site: Sight, heading_id: str) -> Iterator[str]:
    for kind in READ_FOR_ENTRY:
        if unreadable(site, kind, heading_id):
            yield f"something ({kind.replace('_', ' ')})"
