"""Whether each lap is held by plates along its whole length."""

from fieldapp.assess.demanded import laps_demanded
from fieldapp.assess.judge import Breach, Check, answered
from fieldapp.assess.seen import Seen
from schemas.findings import Finding, Place
from schemas.limits import Demanded


def lap_held(seen: Seen, demanded: Demanded) -> tuple[Finding, ...]:
    """Judge it as it was answered, lap by lap.

    Parameters
    ----------
    seen : Seen
        Laps. [-]
    demanded : Demanded
        What a breach means. [-]

    Returns
    -------
    tuple of Finding
        One finding; a place for each lap that is not held. [-]

    Source
    ------
    Common practice, no source.
    """
    laps = {lap.number: lap for lap in seen.round.laps}
    wanted = laps_demanded(seen.support_class, seen.round.rows_planned)
    breaches = []
    for lap in laps.values():
        if lap.held is False:
            where = f"lap {lap.number}, {lap.not_held_where or 'somewhere along it'}"
            breaches.append(Breach(Place(words=where), f"plate both sheets: {where}"))
    unseen = [
        Place(words=f"lap {number}")
        for number in range(1, wanted + 1)
        if number not in laps or laps[number].held is None
    ]
    check = Check(
        "lap_held", "a plate bears on both sheets along the whole lap", "looked along it"
    )
    return answered(check, demanded, breaches, unseen)
