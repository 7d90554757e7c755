"""The least overlap between neighbouring sheets of mesh."""

from collections.abc import Iterator
from decimal import Decimal

from fieldapp.assess.judge import Check, Reading, measured
from fieldapp.assess.laps import lap_mm
from fieldapp.assess.mesh.lapped import Lap, is_read, laps_not_known, laps_of
from fieldapp.assess.seen import Seen
from schemas.bodies.round import LapSeen, SheetLap
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
        The narrowest; openings are turned into millimetres by the pitch. Of placed sheets also
        what their edges leave, where both were read. [mm]

    Source
    ------
    Common practice, no source.
    """
    laps = {lap.number: lap for lap in seen.round.laps}
    of_sheets = laps_of(seen)
    readings = [one for lap in laps.values() for one in _readings(seen, lap, demanded)]
    readings += [one for lap in of_sheets for one in _of_sheets(seen, lap, demanded)]
    known = {number for number, lap in laps.items() if is_read(lap)}
    unseen = [
        Place(words=f"lap {number}")
        for number in laps_not_known(seen, of_sheets, known, lambda lap: lap.is_read)
    ]
    unseen += [lap.place for lap in of_sheets if lap.number is None and not lap.is_read]
    check = Check("mesh_lap", "at its narrowest; openings by the pitch", "counted or taped")
    return measured(check, demanded, readings, unseen, STEP_MM)


def _readings(
    seen: Seen, lap: LapSeen | SheetLap, demanded: LapLimit, at: Place | None = None
) -> Iterator[Reading]:
    """Give what was counted and taped of a lap: at a place of its own, or by its number."""
    where = at or Place(words=f"lap {lap.number}" if isinstance(lap, LapSeen) else "")

    def fix() -> str:
        return f"cover {where.words} with a strip of mesh and plate it"

    if lap.openings is not None:
        value = _as_mm(seen, lap.openings, demanded)
        yield Reading(value, Decimal(0), lambda: where, lap.again, fix)
    if lap.least_mm is not None:
        own_mm = lap.doubt_mm if isinstance(lap, LapSeen) else None
        own_m = None if own_mm is None else own_mm / 1000
        doubt_mm = seen.doubt_m(lap.method, own_m) * 1000
        yield Reading(lap.least_mm, doubt_mm, lambda: where, lap.again, fix)


def _of_sheets(seen: Seen, lap: Lap, demanded: LapLimit) -> Iterator[Reading]:
    """Give what was read of a lap of two sheets, and what their edges leave.

    Edges that are only assumed tell nothing, unless they leave a lap that can't be enough.
    """
    for read in lap.read:
        yield from _readings(seen, read, demanded, lap.place)
    if lap.width_m is None:
        return
    width_mm, u_mm = lap.width_m * 1000, lap.u_m * 1000
    too_narrow = width_mm + demanded.guard_factor * u_mm < demanded.at_least_mm
    if lap.edges_read or (too_narrow and not lap.is_read):

        def fix() -> str:
            return f"cover {lap.words} with a strip of mesh and plate it"

        yield Reading(width_mm, u_mm, lambda: lap.place, fix=fix, supposed=not lap.edges_read)


def _as_mm(seen: Seen, openings: int, demanded: LapLimit) -> Decimal:
    """Say openings in millimetres, so that as many as demanded are never too few."""
    mesh = seen.support_class.mesh
    width = Decimal(0) if mesh is None else lap_mm(openings, mesh.pitch_mm)
    if openings >= demanded.at_least_openings:
        return max(width, demanded.at_least_mm)
    return min(width, demanded.at_least_mm - 1)
