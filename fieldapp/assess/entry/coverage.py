"""How much of what was fired lies under accepted rounds."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from fieldapp.assess.entry.bare_ground import Bare, reach_m, without
from fieldapp.assess.entry.facts import HeadingFacts, RoundFact


@dataclass(frozen=True)
class Coverage:
    """Metres signed over metres fired: never more of the one than of the other."""

    signed_m: Decimal
    fired_m: Decimal


def coverage(facts: HeadingFacts, bare: Iterable[Bare] = ()) -> Coverage:
    """Find how much of the ground that was fired lies under accepted rounds.

    Fired is how far the face went inbye since the record began, as fired or as read. A round
    that two people recorded covers what both accepted. The face that an accepted round left is
    signed with it, as long as its last row is near enough. What was stripped since is not.

    Parameters
    ----------
    facts : HeadingFacts
        The rounds and the face of one heading. [m]
    bare : iterable of Bare
        What was stripped and not supported anew. [m]

    Returns
    -------
    Coverage
        Metres signed, and metres fired. [m]

    Source
    ------
    Common practice, no source.
    """
    accepted = signed_stretches(facts.rounds, facts.face_allowance_m)
    signed = without(accepted, ((it.from_m, it.to_m) for it in bare))
    return covered(signed, facts.fired_from_m, facts.face_m)


def signed_stretches(
    rounds: Iterable[RoundFact], face_allowance_m: Decimal
) -> tuple[tuple[Decimal, Decimal], ...]:
    """Find which ground accepted rounds cover.

    Parameters
    ----------
    rounds : iterable of RoundFact
        Of one heading. [m]
    face_allowance_m : Decimal
        How far the face may be from the last row that is signed with it. [m]

    Returns
    -------
    tuple of (Decimal, Decimal)
        From and to, in order; they may overlap. [m]

    Source
    ------
    Common practice, no source.
    """
    by_name = defaultdict(list)
    for fact in rounds:
        by_name[fact.same].append(fact)
    found = (
        (max(it.joint_m for it in same), min(reach_m(it, face_allowance_m) for it in same))
        for same in by_name.values()
        if all(it.decision == "accepted" for it in same)
    )
    return tuple(sorted(found))


def covered(signed: Iterable[tuple[Decimal, Decimal]], from_m: Decimal, to_m: Decimal) -> Coverage:
    """Find how much of a stretch that was fired lies under accepted rounds.

    Parameters
    ----------
    signed : iterable of (Decimal, Decimal)
        What accepted rounds cover, in order. [m]
    from_m, to_m : Decimal
        What was fired. [m]

    Returns
    -------
    Coverage
        Metres signed, each counted once, and metres fired. [m]

    Source
    ------
    Common practice, no source.
    """
    signed_m, done_m = Decimal(0), from_m
    for begin_m, end_m in signed:
        reach_m = min(end_m, to_m)
        signed_m += max(Decimal(0), reach_m - max(begin_m, done_m))
        done_m = max(done_m, reach_m)
    return Coverage(signed_m, to_m - from_m)
