"""Whether the last row is painted or signed."""

from fieldapp.assess.judge import Breach, Check, answered
from fieldapp.assess.seen import Seen
from schemas.findings import Finding, Place
from schemas.limits import Demanded


def last_row_marked(seen: Seen, demanded: Demanded) -> tuple[Finding, ...]:
    """Judge it as it was answered.

    Parameters
    ----------
    seen : Seen
        The answer. [-]
    demanded : Demanded
        What a breach means. [-]

    Returns
    -------
    tuple of Finding
        One finding. [-]

    Source
    ------
    Common practice, no source.
    """
    marked = seen.round.last_row_marked
    place = Place(words="the last row")
    job = "paint or sign the last row, so that nobody passes it"
    breaches = [Breach(place, job)] if marked is False else []
    check = Check("last_row_marked", "paint, tape or a sign", "looked at")
    return answered(check, demanded, breaches, [place] if marked is None else [])
