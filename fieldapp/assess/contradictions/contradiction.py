"""Two stated facts that can't both be true, and the finding that says so."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from decimal import Decimal
from typing import Final, TypeAlias

from fieldapp.assess.seen import Seen
from schemas.bundle import Bundle
from schemas.findings import Finding, Place, Verdict, worst

AT_ONE_PLACE_M: Final = Decimal("0.1")
"""Chainages that are no farther apart say the same place: they are painted to a tenth."""


@dataclass(frozen=True)
class Contradiction:
    """One place at which what was stated contradicts itself. Its words say what does what."""

    check: str
    """The check that can't be answered by it, or the part of the record that it is in."""
    place: Place
    settle: str
    """What somebody does about it."""
    verdict: Verdict = Verdict.MEASURE_AGAIN
    """A reading is taken again; what no reading settles counts as not looked at."""


@dataclass(frozen=True)
class Stated:
    """Everything that a round is judged by, and what was seen of the round."""

    bundle: Bundle
    seen: Seen


Rule: TypeAlias = Callable[[Stated], Iterator[Contradiction]]


def once_more(*, again: bool) -> Verdict:
    """Give the verdict over a reading that contradicts something: as over one that straddles.

    Parameters
    ----------
    again : bool
        It has been taken once more already. [-]

    Returns
    -------
    Verdict
        Measure again, once; then rework. [-]

    Source
    ------
    Common practice, no source.
    """
    return Verdict.REWORK if again else Verdict.MEASURE_AGAIN


def finding_of(check: str, found: list[Contradiction]) -> Finding:
    """State everything that contradicts itself under one check.

    Parameters
    ----------
    check : str
        Its name. [-]
    found : list of Contradiction
        At least one. [-]

    Returns
    -------
    Finding
        Never accept, and held at no entry: nobody knows which of both is true. [-]

    Source
    ------
    Common practice, no source.
    """
    said = "Contradiction"
    return Finding(
        check=check,
        title=said,
        verdict=worst([one.verdict for one in found]),
        holds=Verdict.NO_ENTRY,
        measured=None,
        uncertainty=None,
        limit=None,
        unit="",
        places=tuple(one.place for one in found),
        because="common practice",
        how="what was stated, compared with what else was stated",
        basis="as it was written down",
        fix=tuple(dict.fromkeys(one.settle for one in found)),
    )
