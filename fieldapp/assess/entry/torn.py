"""Rounds of which only a part would move: it isn't known where their rows are today."""

from collections.abc import Iterator
from decimal import Decimal

from fieldapp.assess.entry.caps import Cap
from fieldapp.assess.entry.facts import HeadingFacts, RoundFact
from schemas.findings import Verdict
from schemas.numbers import SAID_M, rounded, text


def torn_caps(facts: HeadingFacts) -> Iterator[Cap]:
    """Yield why nobody goes beyond the joint of a round within which chainages become others.

    Parameters
    ----------
    facts : HeadingFacts
        The rounds of one heading. [m]

    Returns
    -------
    iterator of Cap
        One a round; none where chainages become others at its ends. [m]

    Source
    ------
    Common practice, no source: what is not known is taken as the stricter says.
    """
    for fact in facts.rounds:
        if fact.torn_at_m is not None:
            yield Cap(
                line_m=max(Decimal(0), fact.joint_m),
                state="no entry, barrier not yet up",
                verdict=Verdict.NOT_LOOKED_AT,
                because=_torn(fact, fact.torn_at_m),
                origin="stated",
            )


def _torn(fact: RoundFact, at_m: Decimal) -> str:
    at = text(rounded(at_m, SAID_M))
    return (
        f"chainages were measured anew from {at} m on, within {fact.name}: an engineer "
        "says from which of its ends"
    )
