"""Deviations that come with a round: granted for it, and for no longer than any may stand."""

from collections.abc import Iterator
from datetime import timedelta

from fieldapp.assess.contradictions.contradiction import Contradiction, Stated
from schemas.bodies.deviation import Deviation
from schemas.bundle import Bundle
from schemas.findings import Place, Verdict


def deviations(stated: Stated) -> Iterator[Contradiction]:
    """Find deviations that were granted for something else.

    Parameters
    ----------
    stated : Stated
        Deviations, and the id of the round. [-]

    Returns
    -------
    iterator of Contradiction
        One for each other round; none where the bundle doesn't say which round it is. [-]

    Source
    ------
    Common practice, no source.
    """
    bundle = stated.bundle
    others = {one.round for one in bundle.deviations} - {bundle.round_id}
    if bundle.round_id is not None:
        for other in sorted(others):
            yield Contradiction(
                "deviations",
                Place(words=f"a deviation of the round {other}, not of this one"),
                settle="ask the geotechnical engineer which round it was granted for",
                verdict=Verdict.NOT_LOOKED_AT,
            )


def deviations_standing(bundle: Bundle) -> tuple[Deviation, ...]:
    """Give the deviations that can have been granted for this round by now.

    Parameters
    ----------
    bundle : Bundle
        Deviations, the id of the round, the standard's rule and the time. [h]

    Returns
    -------
    tuple of Deviation
        None of another round, or of one that isn't told; none that ends later than one granted
        at this moment would. [-]

    Source
    ------
    Common practice, no source.
    """
    at_most = timedelta(hours=float(bundle.standard.deviations.at_most_h))
    return tuple(
        one
        for one in bundle.deviations
        if one.round == bundle.round_id and one.ends_at - bundle.as_at <= at_most
    )
