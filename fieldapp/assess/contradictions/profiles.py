"""Surveyed profiles: points that are no outline, or another width than was read."""

from collections.abc import Iterator
from decimal import Decimal
from typing import Final

from fieldapp.assess.contradictions.contradiction import Contradiction, Stated
from fieldapp.assess.demanded import profile_of, survey_refused
from fieldapp.assess.words import row_name, row_place
from schemas import standard
from schemas.bodies.round import ProfileSeen
from schemas.findings import Place, Verdict
from schemas.numbers import STEP_M, rounded, text

ALIKE_M: Final = Decimal("0.3")
"""Widths of rough rock that are no farther apart say the same."""


def profiles(stated: Stated) -> Iterator[Contradiction]:
    """Find surveys that no row can be laid out on, and those that their own width denies.

    Parameters
    ----------
    stated : Stated
        The round, its profile, and those of its rows. [m]

    Returns
    -------
    iterator of Contradiction
        At the row whose profile it is; without a row for that of the round. [m]

    Source
    ------
    Common practice, no source.
    """
    seen = stated.seen
    designed = [it.support_class.profile for it in seen.domains]
    if seen.round.profile is not None:
        for words in _contradicted(designed[0], seen.round.profile):
            yield _survey_again(Place(words=f"the profile, {words}"))
    domain = {row.number: row.domain for row in seen.rows}
    for row in seen.round.rows:
        if row.profile is not None:
            for words in _contradicted(designed[domain[row.number]], row.profile):
                said = f"the profile at {row_name(row.number)}, {words}"
                yield _survey_again(row_place(row.number, words=said))


def _contradicted(designed: standard.Profile, broken: ProfileSeen) -> Iterator[str]:
    if not broken.points:
        return
    refused = survey_refused(designed, broken)
    if refused is not None:
        yield f"as surveyed: {refused}"
        return
    width_m = rounded(profile_of(designed, broken).width_m, STEP_M)
    if abs(width_m - broken.width_m) > ALIKE_M:
        yield f"surveyed {text(width_m)} m wide, and {text(broken.width_m)} m was read"


def _survey_again(place: Place) -> Contradiction:
    settle = "survey the profile again, or read its width and height"
    return Contradiction("profile", place, settle, Verdict.NOT_LOOKED_AT)
