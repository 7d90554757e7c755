"""How much of what was fired lies under accepted rounds."""

from collections import defaultdict
from dataclasses import dataclass
from decimal import Decimal

from fieldapp.assess.entry_facts import HeadingFacts, RoundFact


@dataclass(frozen=True)
class Coverage:
    """Metres signed over metres fired: never more of the one than of the other."""

    signed_m: Decimal
    fired_m: Decimal


def coverage(facts: HeadingFacts) -> Coverage:
    """Find how much of the ground that was fired lies under accepted rounds.

    Fired is how far the face went inbye since the record began, as fired or as read. A round
    that two people recorded covers what both accepted. The face that an accepted round left is
    signed with it, as long as its last row is near enough.

    Parameters
    ----------
    facts : HeadingFacts
        The rounds and the face of one heading. [m]

    Returns
    -------
    Coverage
        Metres signed, and metres fired. [m]

    Source
    ------
    Common practice, no source.
    """
    by_number = defaultdict(list)
    for fact in facts.rounds:
        by_number[fact.number].append(fact)
    stretches = [
        (max(it.joint_m for it in same), min(_reach_m(facts, it) for it in same))
        for same in by_number.values()
        if all(it.decision == "accepted" for it in same)
    ]
    signed_m, done_m = Decimal(0), facts.fired_from_m
    for from_m, to_m in sorted(stretches):
        reach_m = min(to_m, facts.face_m)
        signed_m += max(Decimal(0), reach_m - max(from_m, done_m))
        done_m = max(done_m, reach_m)
    return Coverage(signed_m, facts.face_m - facts.fired_from_m)


def _reach_m(facts: HeadingFacts, fact: RoundFact) -> Decimal:
    if fact.face_m is None or fact.face_m - fact.last_row_m > facts.face_allowance_m:
        return fact.last_row_m
    return fact.face_m
