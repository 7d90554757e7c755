"""How far the mesh goes: to the face, and down both walls."""

from fieldapp.assess.judge import Check, Reading, measured
from fieldapp.assess.seen import Seen
from schemas.bodies.round import LengthReading
from schemas.findings import Finding, Place
from schemas.limits import AtMostMetres, ReachLimit
from schemas.numbers import STEP_M, Metres


def mesh_reach(seen: Seen, demanded: ReachLimit) -> tuple[Finding, ...]:
    """Judge both: from the last edge held by plates to the face, and above the floor.

    Parameters
    ----------
    seen : Seen
        The two readings. [m]
    demanded : ReachLimit
        The two bounds. [m]

    Returns
    -------
    tuple of Finding
        One finding each. [m]

    Source
    ------
    Common practice, no source.
    """
    to_face = measured(
        Check(
            "mesh_reach",
            "from the last edge held by plates",
            _method(seen.round.mesh.to_face),
            "Mesh to the face",
        ),
        _at_most(demanded, demanded.to_face_at_most_m),
        _readings(seen, seen.round.mesh.to_face, "mesh to the face", "mesh on to the face"),
        [] if seen.round.mesh.to_face else [Place(words="mesh to the face")],
        STEP_M,
    )
    above_floor = measured(
        Check(
            "mesh_reach",
            "lower edge, the higher of both walls",
            _method(seen.round.mesh.above_floor),
            "Mesh above the floor",
        ),
        _at_most(demanded, demanded.above_floor_at_most_m),
        _readings(seen, seen.round.mesh.above_floor, "mesh above the floor", "mesh lower down"),
        [] if seen.round.mesh.above_floor else [Place(words="mesh above the floor")],
        STEP_M,
    )
    return (*to_face, *above_floor)


def _readings(seen: Seen, reading: LengthReading | None, words: str, fix: str) -> list[Reading]:
    if reading is None:
        return []
    u = seen.doubts_m[reading.method]
    place = Place(words=words)
    return [Reading(reading.value_m, u, lambda: place, reading.again, lambda: fix)]


def _method(reading: LengthReading | None) -> str:
    return "" if reading is None else reading.method


def _at_most(demanded: ReachLimit, bound_m: Metres) -> AtMostMetres:
    return AtMostMetres(
        because=demanded.because,
        breach=demanded.breach,
        guard_factor=demanded.guard_factor,
        at_most_m=bound_m,
    )
