"""What the ledger says of a heading's damage and its repairs, and what it means for entry."""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime

from fieldapp.assess.damage import Left, Observation, Ranked, left_of, priority
from fieldapp.assess.entry.damage import damage_fact
from fieldapp.assess.entry.facts import DamageFact
from fieldapp.work.authority import ENGINEER, counting
from fieldapp.work.known import current
from fieldapp.work.site import Sight
from fieldapp.work.standard_in_force import NoStandard, in_force
from schemas.bodies.damage import Damage
from schemas.bodies.rehab import Rehab
from schemas.standard import Standard, SupportClass


@dataclass(frozen=True)
class SeenDamage:
    """One damage: everything that was seen of it, the oldest first."""

    id: str
    """Of the first observation."""
    seen: tuple[Observation, ...]


@dataclass(frozen=True)
class StatedRehab:
    """One current revision of a repair; where two stand, both are given."""

    id: str
    rehab: Rehab


@dataclass(frozen=True)
class Judge:
    """By what the damage of a heading is judged."""

    standard: Standard | None
    demanded: SupportClass | None
    """The class put up there."""

    def ranked(self, seen: Sequence[Observation], at: datetime) -> Ranked:
        """Rank a damage by what is left of it."""
        return priority(seen, self.standard, self.demanded, at)

    def ranked_now(self, damage: SeenDamage, remains: Left, at: datetime) -> Ranked:
        """Rank a damage by what is left of it; restored, as at its first look: never overdue."""
        when = at if remains.seen else min(it.damage.seen_at for it in damage.seen)
        return self.ranked(remains.seen or damage.seen, when)


def judge(site: Sight, support_class: str, at: datetime) -> Judge:
    """Give the standard in force, and the class in it; damage is ranked without one too."""
    try:
        standard = in_force(site, at).body
    except NoStandard:
        return Judge(None, None)
    return Judge(standard, standard.support_class(support_class))


def seen_damages(site: Sight, heading_id: str) -> tuple[SeenDamage, ...]:
    """Give the damage of a heading, the one entered first at the beginning.

    What names a damage that is not here, or of another heading, is one by itself.
    """
    roster = counting(site).roster
    of_one: dict[str, list[Observation]] = defaultdict(list)
    for it in current(site, "damage", Damage, heading=heading_id):
        by_engineer = any(role in ENGINEER for role in roster.roles(it.entry))
        read_m = it.read.chainage_m if it.chaining.moves else None
        of_one[it.body.again or it.id].append(Observation(it.id, it.body, by_engineer, read_m))
    return tuple(SeenDamage(it, tuple(of_one[it])) for it in sorted(of_one))


def observations_of(site: Sight, rehab: Rehab) -> tuple[str, ...]:
    """Give the ids of everything that was seen of what a repair repairs: photos show one each."""
    known = (it for it in seen_damages(site, rehab.heading) if it.id in rehab.damages)
    seen = (one.id for it in known for one in it.seen)
    return tuple(dict.fromkeys((*rehab.damages, *seen)))


def stated_rehabs(site: Sight, heading_id: str) -> tuple[StatedRehab, ...]:
    """Give the repairs of a heading as their current revisions that count have them."""
    known = current(site, "rehab", Rehab, heading=heading_id)
    return tuple(StatedRehab(it.id, it.body) for it in known)


def verified(rehabs: Sequence[StatedRehab]) -> tuple[Rehab, ...]:
    """Give those of which every current revision is verified."""
    states = defaultdict(set)
    for it in rehabs:
        states[it.id].add(it.rehab.state)
    return tuple(it.rehab for it in rehabs if states[it.id] == {"verified"})


def left(damage: SeenDamage, rehabs: Sequence[StatedRehab]) -> Left:
    """Give what is left of a damage by the repairs that were verified."""
    return left_of(damage.seen, damage.id, verified(rehabs))


def damages_holding(
    by: Judge, damages: Sequence[SeenDamage], rehabs: Sequence[StatedRehab], at: datetime
) -> tuple[DamageFact, ...]:
    """Give the damage that holds entry, as it is judged at a time."""
    return tuple(_holding(by, damages, rehabs, at))


def _holding(
    by: Judge, damages: Sequence[SeenDamage], rehabs: Sequence[StatedRehab], at: datetime
) -> Iterator[DamageFact]:
    rule = by.standard.rehab if by.standard else None
    for damage in damages:
        remains = left(damage, rehabs)
        if remains.seen:
            fact = damage_fact(damage.id, remains, by.ranked(remains.seen, at), rule)
            if fact is not None:
                yield fact
