"""What was looked at, in words, and what it says of the rest.

It never says accept: a sample judges how the work is done. It excuses no bolt that is known to
be bad, and what could not be reached counts as bad.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from math import ceil

from fieldapp.assess.sampling.finite import most_bad
from schemas.numbers import STEP_SHARE, rounded


@dataclass(frozen=True)
class Looked:
    """What came of the draw in one stratum."""

    stratum: str
    of: int
    """How many there are."""
    drawn: int
    looked_at: int
    """Of those drawn. The others were not reached, whatever the reason."""
    bad: int
    """Of those drawn and looked at."""
    bad_beside: int = 0
    """Found where nothing was drawn: at suspects. Such looks count for no share."""

    @property
    def contradicts(self) -> bool:
        """More of something than of what it is part of: what was stated can't be."""
        in_draw = 0 <= self.bad <= self.looked_at <= self.drawn <= self.of
        return not (in_draw and 0 <= self.bad_beside <= self.of - self.drawn)

    @property
    def not_reached(self) -> int:
        """Those drawn that nobody looked at."""
        return self.drawn - self.looked_at


@dataclass(frozen=True)
class Statement:
    """What the draw says of one stratum."""

    looked: Looked
    confidence: Decimal
    most_bad: int
    """No more are bad, with that confidence."""
    most_bad_share: Decimal

    @property
    def words(self) -> str:
        """As it is said: "none found in 47 of 120; at most 5 % bad, 95 % confidence"."""
        return "; ".join(self._parts())

    def _parts(self) -> Iterator[str]:
        looked = self.looked
        if looked.contradicts:
            yield f"the counts of {looked.of} contradict each other"
            yield "nothing is known"
            return
        yield from self._of_the_draw() if looked.looked_at else self._of_no_look()
        if looked.bad_beside:
            yield f"{looked.bad_beside} more found bad beside the draw"

    def _of_no_look(self) -> Iterator[str]:
        yield f"none of {self.looked.of} looked at"
        yield "nothing is known"

    def _of_the_draw(self) -> Iterator[str]:
        bad, looked_at, of = self.looked.bad, self.looked.looked_at, self.looked.of
        yield (
            f"{bad} found in {looked_at} of {of}" if bad else f"none found in {looked_at} of {of}"
        )
        if self.looked.not_reached:
            yield f"{self.looked.not_reached} not reached and counted as bad"
        if looked_at < of:
            share = ceil(100 * self.most_bad / of)  # up, so that it is never said milder
            sure = (self.confidence * 100).normalize()
            yield ", ".join((f"at most {share} % bad", f"{sure:f} % confidence"))


def stated(looked: Looked, confidence: Decimal) -> Statement:
    """Say what a draw tells of one stratum.

    Parameters
    ----------
    looked : Looked
        What was drawn, looked at and found. [-]
    confidence : Decimal
        One-sided, below 1. [-]

    Returns
    -------
    Statement
        How many may be bad at most, never fewer than are known to be; all of them where nobody
        looked or the counts can't be. [-]

    Source
    ------
    Hypergeometric distribution, see `most_bad`; that what was not reached counts as bad is common
    practice, no source.
    """
    counted = looked.bad + looked.not_reached
    most = looked.of
    if looked.looked_at and not looked.contradicts:
        sampled = most_bad(looked.of, looked.drawn, counted, confidence)
        most = max(sampled, counted + looked.bad_beside)
    share = rounded(Decimal(most) / looked.of, STEP_SHARE) if looked.of else Decimal(0)
    return Statement(looked, confidence, most, share)
