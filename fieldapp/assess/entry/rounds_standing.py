"""Which rounds of a heading stand accepted, and how far they carry its support inbye."""

from collections.abc import Iterable
from datetime import datetime
from decimal import Decimal

from fieldapp.assess.entry.facts import HeadingFacts, RoundFact


def signed_to(facts: HeadingFacts, as_at: datetime) -> Decimal:
    """Follow the unbroken run of accepted rounds from where support ended.

    Mesh may end short of a round's last row: entry does too, until the next round is accepted
    with its lap at the joint. A round that two people recorded counts as the stricter says.

    Parameters
    ----------
    facts : HeadingFacts
        The rounds of one heading. [m]
    as_at : datetime
        The time for which it is asked. [UTC]

    Returns
    -------
    Decimal
        Chainage of the last row of accepted support. [m]

    Source
    ------
    Common practice, no source: nobody passes the last row of accepted support.
    """
    by = facts.no_earlier_than_known(as_at)
    line = last_row_m = facts.last_row_m
    for same in _by_number(advances(facts.rounds)):
        joint_m = max(fact.joint_m for fact in same)
        if joint_m > last_row_m or not all(stands(fact, by) for fact in same):
            break
        lines = (fact.entry_line_m for fact in same)
        line = max(line, min(line if it is None else it for it in lines))
        last_row_m = max(last_row_m, min(fact.last_row_m for fact in same))
    return line


def advances(rounds: Iterable[RoundFact]) -> tuple[RoundFact, ...]:
    """Leave out new support over old: it takes the heading no step inbye.

    Parameters
    ----------
    rounds : iterable of RoundFact
        Of one heading. [m]

    Returns
    -------
    tuple of RoundFact
        Those that support an advance. [m]

    Source
    ------
    Common practice, no source.
    """
    return tuple(fact for fact in rounds if not fact.over_old)


def standing(facts: HeadingFacts, as_at: datetime) -> tuple[RoundFact, ...]:
    """Give the rounds that stand accepted.

    Parameters
    ----------
    facts : HeadingFacts
        The rounds of one heading. [m]
    as_at : datetime
        The time for which it is asked. [UTC]

    Returns
    -------
    tuple of RoundFact
        Those that nobody doubts and whose deviations have not ended. [m]

    Source
    ------
    Common practice, no source.
    """
    by = facts.no_earlier_than_known(as_at)
    return tuple(fact for fact in facts.rounds if stands(fact, by))


def _by_number(rounds: tuple[RoundFact, ...]) -> list[list[RoundFact]]:
    """Put those of one number together, the joint farthest outbye first."""
    by_number: dict[int, list[RoundFact]] = {}
    for fact in rounds:
        by_number.setdefault(fact.number, []).append(fact)
    return sorted(by_number.values(), key=lambda same: max(fact.joint_m for fact in same))


def stands(fact: RoundFact, by: datetime) -> bool:
    """Tell whether a round stands accepted.

    Parameters
    ----------
    fact : RoundFact
        The round. [m]
    by : datetime
        The time by which its deviations may have ended. [UTC]

    Returns
    -------
    bool
        Accepted, by nobody doubted, under no deviation that has ended. [-]

    Source
    ------
    Common practice, no source.
    """
    lapsed = fact.permitted_until is not None and by >= fact.permitted_until
    doubted = fact.in_dispute or fact.looked_at_again
    return fact.decision == "accepted" and not lapsed and not doubted
