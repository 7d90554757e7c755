"""Batches in doubt in one heading: what an engineer decides, by when, and for which rounds."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from fieldapp.assess.entry_facts import BatchInDoubt, HeadingFacts
from fieldapp.assess.times import time_from, time_words


@dataclass(frozen=True)
class Doubt:
    """One batch in doubt, and the rounds of the heading that used it."""

    batch: str
    reason: str
    rounds: tuple[int, ...]
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
        return _named(self.rounds)


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
        (fact.number, batch)
        for batch in facts.batches_in_doubt
        for fact in facts.rounds
        if batch.label in fact.batches
    )
    return doubts_among(used, as_at)


def doubts_among(used: Iterable[tuple[int, BatchInDoubt]], as_at: datetime) -> tuple[Doubt, ...]:
    """Put together the rounds that used the same batch in doubt.

    Parameters
    ----------
    used : iterable of (int, BatchInDoubt)
        A round's number and a batch that it used. [-]
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
    numbers: dict[str, set[int]] = defaultdict(set)
    known: dict[str, BatchInDoubt] = {}
    for number, batch in used:
        numbers[batch.label].add(number)
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


def _named(rounds: tuple[int, ...]) -> str:
    if len(rounds) == 1:
        return f"round {rounds[0]}"
    if rounds[-1] - rounds[0] == len(rounds) - 1 and len(rounds) > 2:  # noqa: PLR2004 - a run
        return f"rounds {rounds[0]} to {rounds[-1]}"
    listed = ", ".join(map(str, rounds[:-1]))
    return f"rounds {listed} and {rounds[-1]}"
