"""Where the laps of a round lie along the drive: the standard's sheets, as wide as was read."""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from fieldapp.assess.demanded import laps_demanded
from fieldapp.assess.laps import lap_mm
from fieldapp.assess.seen import Seen
from schemas.bodies.round import LapSeen


@dataclass(frozen=True)
class LapPlace:
    """One lap, across the supported line."""

    number: int
    middle_m: Decimal
    """Chainage of its middle."""
    width_m: Decimal
    """As it was read; as it is demanded where nobody has."""
    read: LapSeen | None
    """None: nobody has read it."""


def lap_places(seen: Seen) -> Iterator[LapPlace]:
    """Find where each lap lies that is demanded or was read.

    Parameters
    ----------
    seen : Seen
        The round, beside its class. [m]

    Returns
    -------
    iterator of LapPlace
        By number, from the joint inbye. [m]

    Source
    ------
    Common practice, no source: sheets follow each other from the joint by their length less the
    lap that is demanded.
    """
    read = {lap.number: lap for lap in seen.round.laps}
    wanted = laps_demanded(seen.support_class, seen.round.rows_planned)
    mesh, limit = seen.support_class.mesh, seen.support_class.limits.mesh_lap
    demanded_m = limit.at_least_mm / 1000 if limit else Decimal(0)
    advance_m = mesh.along_drive_m - demanded_m if mesh else Decimal(0)
    for number in sorted({*range(1, wanted + 1), *read}):
        lap = read.get(number)
        width_m = _width_m(seen, lap) if lap else None
        yield LapPlace(
            number=number,
            middle_m=seen.round.joint_m + (number - 1) * advance_m,
            width_m=demanded_m if width_m is None else width_m,
            read=lap if width_m is not None else None,
        )


def _width_m(seen: Seen, lap: LapSeen) -> Decimal | None:
    if lap.least_mm is not None:
        return lap.least_mm / 1000
    mesh = seen.support_class.mesh
    if lap.openings is None or mesh is None:
        return None
    return lap_mm(lap.openings, mesh.pitch_mm) / 1000
