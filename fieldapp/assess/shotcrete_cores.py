"""Cores of shotcrete: whether a set is strong enough."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from schemas.bolt_test_rules import CoreRule
from schemas.numbers import STEP_SHARE, rounded
from schemas.trouble import BadInput


@dataclass(eq=False)
class TooFewCores(BadInput):
    """A set that is not whole is not judged."""

    cores: int
    demanded: int
    happened = "{cores} cores are no set: the standard demands {demanded}."
    kept = "The cores stand as they are; nothing was judged by them."
    do_next = "Add the strengths of the other cores, or drill them."


@dataclass(frozen=True)
class CoresJudged:
    """Shares of the strength demanded: of the mean, and of the weakest core."""

    mean_share: Decimal
    least_share: Decimal
    mean_enough: bool
    weak: tuple[int, ...]
    """Cores below what each must reach, from 0."""

    @property
    def passed(self) -> bool:
        """The mean and every core are strong enough."""
        return self.mean_enough and not self.weak


def cores_judged(cores_mpa: Sequence[Decimal], rule: CoreRule) -> CoresJudged | TooFewCores:
    """Judge a set of cores.

    Parameters
    ----------
    cores_mpa : sequence of Decimal
        Strength of each core of one set. [MPa]
    rule : CoreRule
        How many there are in a set, and what they must reach. [MPa, shares]

    Returns
    -------
    CoresJudged or TooFewCores
        Shares of the strength demanded. [share]

    Source
    ------
    ACI 506.2: the mean of three cores at least 85 % of the strength and none below 75 %.
    """
    if len(cores_mpa) < rule.cores:
        return TooFewCores(len(cores_mpa), rule.cores)
    shares = [rounded(core / rule.strength_mpa, STEP_SHARE) for core in cores_mpa]
    mean = sum(cores_mpa) / Decimal(len(cores_mpa))
    mean_share = rounded(mean / rule.strength_mpa, STEP_SHARE)
    return CoresJudged(
        mean_share=mean_share,
        least_share=min(shares),
        mean_enough=mean_share >= rule.mean_share_at_least,
        weak=tuple(n for n, it in enumerate(shares) if it < rule.each_share_at_least),
    )
