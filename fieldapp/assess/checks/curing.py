"""Whether bolts and shotcrete have cured."""

from fieldapp.assess.cured import cured_parts
from fieldapp.assess.judge import Breach, Check, answered
from fieldapp.assess.seen import Seen
from schemas.findings import Finding, Place
from schemas.limits import Demanded


def curing(seen: Seen, demanded: Demanded) -> tuple[Finding, ...]:
    """Judge it at the time of the assessment: by time and by strength, the later of both.

    Parameters
    ----------
    seen : Seen
        When it was finished, and strengths measured. [UTC]
    demanded : Demanded
        What a breach means. [-]

    Returns
    -------
    tuple of Finding
        One finding, with the time until which nobody goes under it. [UTC]

    Source
    ------
    Common practice, no source.
    """
    parts = cured_parts(seen)
    breaches = []
    unseen = []
    for part in parts:
        place = Place(words=part.words)
        if part.too_weak:
            breaches.append(Breach(place, f"nobody under it until tested again: {part.words}"))
        elif part.cured.by_time_at is not None and seen.as_at < part.cured.by_time_at:
            until = f"{part.cured.by_time_at:%Y-%m-%d %H:%M} UTC"
            breaches.append(Breach(place, f"nobody under it until {until}: {part.words}"))
        if part.cured.at is None and not part.too_weak:
            unseen.append(place)
    check = Check("curing", "by time and by strength, the later", "as told and tested")
    return answered(check, demanded, breaches, unseen)
