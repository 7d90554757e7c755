"""The least overlap between neighbouring sheets of mesh."""

from collections.abc import Iterator
from decimal import Decimal

from fieldapp.assess.demanded import laps_demanded
from fieldapp.assess.judge import Check, Reading, measured
from fieldapp.assess.laps import lap_mm
from fieldapp.assess.seen import Seen
from schemas.bodies.round import LapSeen
from schemas.findings import Finding, Place
from schemas.limits import LapLimit
from schemas.numbers import STEP_MM


def mesh_lap(seen: Seen, demanded: LapLimit) -> tuple[Finding, ...]:
    """Judge it: openings as counted, millimetres as taped, and the narrowest governs.

    Parameters
    ----------
    seen : Seen
        Laps, each at its narrowest. [mm]
    demanded : LapLimit
        Least openings and least millimetres. [mm]

    Returns
    -------
    tuple of Finding
        The narrowest; openings are turned into millimetres by the pitch. [mm]

    Source
    ------
    Common practice, no source.
    """
    laps = {lap.number: lap for lap in seen.round.laps}
    wanted = laps_demanded(seen.support_class, seen.round.rows_planned)
    readings = [one for lap in laps.values() for one in _readings(seen, lap, demanded)]
    unseen = [
        Place(words=f"lap {number}")
        for number in range(1, wanted + 1)
        if number not in laps or _is_unread(laps[number])
    ]
    check = Check("mesh_lap", "at its narrowest; openings by the pitch", "counted or taped")
    return measured(check, demanded, readings, unseen, STEP_MM)


def _is_unread(lap: LapSeen) -> bool:
    return lap.openings is None and lap.least_mm is None


def _readings(seen: Seen, lap: LapSeen, demanded: LapLimit) -> Iterator[Reading]:
    def place() -> Place:
        return Place(words=f"lap {lap.number}")

    def fix() -> str:
        return f"cover lap {lap.number} with a strip of mesh and plate it"

    if lap.openings is not None:
        value = _as_mm(seen, lap.openings, demanded)
        yield Reading(value, Decimal(0), place, lap.again, fix)
    if lap.least_mm is not None:
        own_m = None if lap.doubt_mm is None else lap.doubt_mm / 1000
        doubt_mm = seen.doubt_m(lap.method, own_m) * 1000
        yield Reading(lap.least_mm, doubt_mm, place, lap.again, fix)


def _as_mm(seen: Seen, openings: int, demanded: LapLimit) -> Decimal:
    """Say openings in millimetres, so that as many as demanded are never too few."""
    mesh = seen.support_class.mesh
    width = Decimal(0) if mesh is None else lap_mm(openings, mesh.pitch_mm)
    if openings >= demanded.at_least_openings:
        return max(width, demanded.at_least_mm)
    return min(width, demanded.at_least_mm - 1)
