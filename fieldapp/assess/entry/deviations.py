"""Rounds that stand accepted under a deviation: what departs from the standard, and until when."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from fieldapp.assess.entry.facts import RoundFact
from fieldapp.assess.times import time_from


@dataclass(frozen=True)
class UnderDeviation:
    """One deviation under which a round stands accepted."""

    round: str
    """"round 87"."""
    what: str
    """"bolt spacing, row 3"."""
    until: str

    @property
    def title(self) -> str:
        """Name the round, what departs and its end, where it stands in a list of a heading."""
        return f"{self.round} under deviation until {self.until}: {self.what}"

    @property
    def words(self) -> str:
        """Say the same to whoever stands before that very round."""
        return f"accepted under deviation until {self.until}: {self.what}"


def deviations_of(rounds: Iterable[RoundFact], as_at: datetime) -> tuple[UnderDeviation, ...]:
    """Name the deviations under which rounds stand.

    Parameters
    ----------
    rounds : iterable of RoundFact
        Rounds that stand accepted at that time. [-]
    as_at : datetime
        The time for which they are asked, in the zone in which times are said. [UTC]

    Returns
    -------
    tuple of UnderDeviation
        In the order of the rounds, then of their ends. [-]

    Source
    ------
    Common practice, no source: whoever enters knows what departs from the standard.
    """
    return tuple(
        UnderDeviation(fact.name, granted.what, time_from(granted.ends_at, as_at))
        for fact in sorted(rounds, key=lambda fact: fact.same)
        for granted in sorted(fact.deviations, key=lambda it: (it.ends_at, it.what))
    )
