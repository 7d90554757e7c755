"""Whether each lap is held by plates along its whole length."""

from fieldapp.assess.judge import Breach, Check, answered
from fieldapp.assess.mesh.held import plated_along
from fieldapp.assess.mesh.lapped import Lap, laps_not_known, laps_of
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
        One finding; a place for each lap that is not held. Of placed sheets also what follows
        from the plates, where their places are known. [-]

    Source
    ------
    Common practice, no source.
    """
    laps = {lap.number: lap for lap in seen.round.laps}
    of_sheets = {id(lap): lap for lap in laps_of(seen)}
    along = {key: plated_along(seen, lap) for key, lap in of_sheets.items()}
    breaches = []
    for lap in laps.values():
        if lap.held is False:
            where = f"lap {lap.number}, {lap.not_held_where or 'somewhere along it'}"
            breaches.append(Breach(Place(words=where), f"plate both sheets: {where}"))
    for key, sheets in of_sheets.items():
        breaches += _not_held(sheets, met=along[key])
    answered_for = {number for number, lap in laps.items() if lap.held is not None}

    def is_known(lap: Lap) -> bool:
        return along[id(lap)] is not None or any(it.held is not None for it in lap.read)

    not_known = laps_not_known(seen, tuple(of_sheets.values()), answered_for, is_known)
    unseen = [Place(words=f"lap {number}") for number in not_known]
    unseen += [it.place for it in of_sheets.values() if it.number is None and not is_known(it)]
    check = Check(
        "lap_held", "a plate bears on both sheets along the whole lap", "looked along it"
    )
    return answered(check, demanded, breaches, unseen)


def _not_held(lap: Lap, *, met: bool | None) -> list[Breach]:
    """Find where a lap of two sheets is not held: as somebody saw it, or no row can meet it."""
    said = [
        f"{lap.words}, {it.not_held_where or 'somewhere along it'}"
        for it in lap.read
        if it.held is False
    ]
    if met is False:
        said.append(f"{lap.words}, no row of bolts meets it")
    return [
        Breach(lap.place.model_copy(update={"words": words}), f"plate both sheets: {words}")
        for words in said
    ]
