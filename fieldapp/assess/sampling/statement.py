"""What was looked at, in words, and what it says of the rest.

It never says accept: a sample judges how the work is done. It excuses no bolt that is known to
be bad, and what could not be reached counts as bad.
"""

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
        looked = self.looked
        if looked.contradicts:
            return f"the counts of {looked.of} contradict each other; nothing is known"
        if looked.looked_at == 0:
            return f"none of {looked.of} looked at; nothing is known" + self._beside()
        found = f"{looked.bad or 'none'} found in {looked.looked_at} of {looked.of}"
        if looked.not_reached:
            found += f", {looked.not_reached} not reached and counted as bad"
        return found + self._of_the_rest() + self._beside()

    def _of_the_rest(self) -> str:
        if self.looked.looked_at == self.looked.of:
            return ""
        share = ceil(100 * self.most_bad / self.looked.of)  # up, so that it is never said milder
        sure = f"{(self.confidence * 100).normalize():f}"
        return f"; at most {share} % bad, {sure} % confidence"

    def _beside(self) -> str:
        beside = self.looked.bad_beside
        return f"; {beside} more found bad beside the draw" if beside else ""


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
