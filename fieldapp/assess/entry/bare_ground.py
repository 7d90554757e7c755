"""Ground whose support was stripped, until new support over it is accepted.

A sign-off that stood for the stripped metres stands for them no longer: what it accepted is
gone. Only a round over old support that was begun with the stripping known gives them back.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from decimal import Decimal

from fieldapp.assess.entry.facts import EventFact, HeadingFacts, RoundFact
from schemas.bodies.event import Stripped
from schemas.numbers import SAID_M, rounded, text

Stretch = tuple[Decimal, Decimal]


@dataclass(frozen=True)
class Bare:
    """Metres whose support was taken away and not put up anew."""

    from_m: Decimal
    to_m: Decimal
    stripped_from_m: Decimal
    """Where the stripping began: outbye of it stand rows that it may have loosened."""
    words: str
    """What was stripped."""


def bare_ground(facts: HeadingFacts, standing: Iterable[RoundFact]) -> tuple[Bare, ...]:
    """Find the ground whose support was stripped and not put up anew.

    Parameters
    ----------
    facts : HeadingFacts
        The strippings of one heading. [m]
    standing : iterable of RoundFact
        The rounds that stand accepted. [m]

    Returns
    -------
    tuple of Bare
        In the order in which they were stripped, from outbye. [m]

    Source
    ------
    Common practice, no source: bolts that were stripped hold nothing.
    """
    over = [it for it in standing if it.over_old]
    return tuple(bare for fact in facts.events for bare in _left_of(fact, over, facts))


def stripped_words(from_m: Decimal, stripped: Stripped) -> str:
    """Say what was stripped, and where.

    Parameters
    ----------
    from_m : Decimal
        Where it begins. [m]
    stripped : Stripped
        Where it ends, and which wall. [m]

    Returns
    -------
    str
        "left wall stripped from 1350.0 to 1362.0 m". [m]

    Source
    ------
    Common practice, no source.
    """
    what = ", ".join(stripped.zones) if stripped.zones else "all around"
    ends = text(rounded(stripped.to_m, SAID_M))
    return f"{what} stripped from {text(rounded(from_m, SAID_M))} to {ends} m"


def without(stretches: Iterable[Stretch], bare: Iterable[Stretch]) -> tuple[Stretch, ...]:
    """Cut stretches out of others.

    Parameters
    ----------
    stretches : iterable of (Decimal, Decimal)
        From and to. [m]
    bare : iterable of (Decimal, Decimal)
        What is cut out. [m]

    Returns
    -------
    tuple of (Decimal, Decimal)
        What is left, in order. [m]

    Source
    ------
    Common practice, no source.
    """
    left = list(stretches)
    for from_m, to_m in bare:
        ends = [
            piece
            for begin_m, end_m in left
            for piece in ((begin_m, min(end_m, from_m)), (max(begin_m, to_m), end_m))
        ]
        left = [(begin_m, end_m) for begin_m, end_m in ends if begin_m < end_m]
    return tuple(sorted(left))


def _left_of(fact: EventFact, over: Iterable[RoundFact], facts: HeadingFacts) -> Iterator[Bare]:
    stripped = fact.event.stripped
    if stripped is None:
        return
    from_m = min(fact.event.chainage_m, facts.face_m)
    to_m = max(from_m, stripped.to_m)
    answered = [
        (it.joint_m, reach_m(it, facts.face_allowance_m))
        for it in over
        if fact.event_id in it.after
    ]
    # One typed beyond the face is a place nobody can know: it closes what lies before the face.
    ground = [(from_m, to_m)] if from_m < to_m else [(from_m, from_m + 1)]
    words = stripped_words(fact.event.chainage_m, stripped)
    for begin_m, end_m in without(ground, answered):
        yield Bare(begin_m, end_m, from_m, words)


def reach_m(fact: RoundFact, face_allowance_m: Decimal) -> Decimal:
    """Give how far the support of a round reaches.

    Parameters
    ----------
    fact : RoundFact
        Its last row, and what it was read to: the face, or the old row that stays inbye. [m]
    face_allowance_m : Decimal
        How far that may be from the last row. [m]

    Returns
    -------
    Decimal
        To what it was read to where that is near enough, otherwise to its last row. [m]

    Source
    ------
    Common practice, no source.
    """
    if fact.face_m is None or fact.face_m - fact.last_row_m > face_allowance_m:
        return fact.last_row_m
    return fact.face_m
