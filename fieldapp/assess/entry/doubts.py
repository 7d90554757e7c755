"""Batches in doubt in one heading: what an engineer decides, by when, and for which rounds."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime

from fieldapp.assess.entry.facts import BatchInDoubt, HeadingFacts
from fieldapp.assess.times import time_from, time_words
from schemas.bodies.round import named


@dataclass(frozen=True)
class Doubt:
    """One batch in doubt, and the rounds of the heading that used it."""

    batch: str
    reason: str
    rounds: tuple[tuple[bool, int], ...]
    """Whether each was put up over old support, and its number."""
    waits: str
    """Who decides, and by when; or that it was decided."""

    @property
    def title(self) -> str:
        """Name the batch and the rounds: "batch RB24-0731 in doubt, rounds 86 and 87"."""
        return f"batch {self.batch} in doubt, {self.rounds_named}"

    @property
    def words(self) -> str:
        """Say all of it but the reason, for whoever stands before that very round."""
        return f"batch {self.batch} is in doubt: {self.waits}"

    @property
    def rounds_named(self) -> str:
        """Name the rounds: "rounds 86 and 87"."""
        over = [named(number, over_old=True) for over_old, number in self.rounds if over_old]
        return " and ".join([*_named([it for over_old, it in self.rounds if not over_old]), *over])


def doubts_of(facts: HeadingFacts, as_at: datetime) -> tuple[Doubt, ...]:
    """Gather the batches in doubt that rounds of a heading used; none of them closes it.

    Parameters
    ----------
    facts : HeadingFacts
        Rounds, events and notices of one heading. [m]
    as_at : datetime
        The time for which they are asked, in the zone in which times are said. [UTC]

    Returns
    -------
    tuple of Doubt
        One a batch, by its label. [-]

    Source
    ------
    Common practice, no source.
    """
    used = (
        (fact.same, batch)
        for batch in facts.batches_in_doubt
        for fact in facts.rounds
        if batch.label in fact.batches
    )
    return doubts_among(used, as_at)


def doubts_among(
    used: Iterable[tuple[tuple[bool, int], BatchInDoubt]], as_at: datetime
) -> tuple[Doubt, ...]:
    """Put together the rounds that used the same batch in doubt.

    Parameters
    ----------
    used : iterable of ((bool, int), BatchInDoubt)
        Whether a round was put up over old support, its number, and a batch that it used. [-]
    as_at : datetime
        The time for which they are asked, in the zone in which times are said. [UTC]

    Returns
    -------
    tuple of Doubt
        One a batch, by its label. [-]

    Source
    ------
    Common practice, no source.
    """
    numbers: dict[str, set[tuple[bool, int]]] = defaultdict(set)
    known: dict[str, BatchInDoubt] = {}
    for same, batch in used:
        numbers[batch.label].add(same)
        known[batch.label] = batch
    return tuple(
        Doubt(
            label, known[label].reason, tuple(sorted(numbers[label])), _waits(known[label], as_at)
        )
        for label in sorted(numbers)
    )


def _waits(batch: BatchInDoubt, as_at: datetime) -> str:
    if batch.kept:
        return "an engineer keeps it in doubt"
    if batch.decide_by is None:
        return "an engineer decides"
    by = batch.decide_by.astimezone(as_at.tzinfo)
    if as_at >= batch.decide_by:
        return f"an engineer's decision is overdue since {time_words(by)}"
    return f"an engineer decides until {time_from(by, as_at)}"


def _named(rounds: Sequence[int]) -> Iterator[str]:
    """Yield "round 86", "rounds 86 and 87" or "rounds 86 to 88"; nothing for none."""
    listed = ", ".join(map(str, rounds[:-1]))
    if len(rounds) == 1:
        yield named(rounds[0], over_old=False)
    elif len(rounds) > 2 and rounds[-1] - rounds[0] == len(rounds) - 1:  # noqa: PLR2004 - a run
        yield f"rounds {rounds[0]} to {rounds[-1]}"
    elif rounds:
        yield f"rounds {listed} and {rounds[-1]}"
