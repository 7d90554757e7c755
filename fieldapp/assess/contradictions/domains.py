"""Two ground domains in one round: the second one has a class of its own, and rows of its own."""

from collections.abc import Iterator

from fieldapp.assess.contradictions.contradiction import Contradiction, Stated
from schemas.findings import Place, Verdict


def domains(stated: Stated) -> Iterator[Contradiction]:
    """Compare the second domain with the class and the rows of the round.

    Parameters
    ----------
    stated : Stated
        The round, each row by its own domain. [m]

    Returns
    -------
    iterator of Contradiction
        A change of ground that changes nothing, or that lies where no row stands. [m]

    Source
    ------
    Common practice, no source.
    """
    second, seen = stated.bundle.round.second_domain, stated.seen
    if second is None:
        return
    if second.support_class == stated.bundle.round.support_class:
        words = f"from {second.from_m} m another ground is said to begin, of the same class"
        yield _not_so(words)
    if not any(row.domain for row in seen.rows):
        last = seen.rows[-1].chainage_m
        yield _not_so(f"the ground changes at {second.from_m} m, past the last row at {last} m")


def _not_so(words: str) -> Contradiction:
    settle = "say again where the ground changes, and to which class"
    return Contradiction("domains", Place(words=words), settle, Verdict.NOT_LOOKED_AT)
