"""How far the mesh goes: to the face, and down both walls."""

from typing import TypeAlias

from fieldapp.assess.judge import Check, Reading, measured
from fieldapp.assess.mesh.reach import Reach, reach_above_floor, reach_to_face
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
        The two readings, and what follows from placed sheets. [m]
    demanded : ReachLimit
        The two bounds. [m]

    Returns
    -------
    tuple of Finding
        One finding each: where both were stated, the worse governs. [m]

    Source
    ------
    Common practice, no source.
    """
    taped, sheets = seen.round.mesh, (reach_to_face(seen), reach_above_floor(seen))
    to_face = measured(
        Check(
            "mesh_reach",
            "from the last edge held by plates",
            _method(taped.to_face, sheets[0]),
            "Mesh to the face",
        ),
        _at_most(demanded, demanded.to_face_at_most_m),
        _readings(seen, (taped.to_face, sheets[0]), "mesh to the face", "mesh on to the face"),
        [] if taped.to_face or sheets[0] else [Place(words="mesh to the face")],
        STEP_M,
    )
    above_floor = measured(
        Check(
            "mesh_reach",
            "lower edge, the higher of both walls",
            _method(taped.above_floor, sheets[1]),
            "Mesh above the floor",
        ),
        _at_most(demanded, demanded.above_floor_at_most_m),
        list(
            _readings(
                seen, (taped.above_floor, sheets[1]), "mesh above the floor", "mesh lower down"
            )
        ),
        [] if taped.above_floor or sheets[1] else [Place(words="mesh above the floor")],
        STEP_M,
    )
    return (*to_face, *above_floor)


_Both: TypeAlias = tuple[LengthReading | None, Reach | None]
"""As it was taped, and as the sheets were placed."""


def _readings(seen: Seen, both: _Both, words: str, fix: str) -> list[Reading]:
    (taped, placed), found = both, []
    if taped is not None:
        place = Place(words=words)
        u = seen.doubts_m[taped.method]
        found.append(Reading(taped.value_m, u, lambda: place, taped.again, lambda: fix))
    if placed is not None:
        by_sheets = Place(words=f"sheets as placed, {words}")
        found.append(Reading(placed.value_m, placed.u_m, lambda: by_sheets, fix=lambda: fix))
    return found


def _method(taped: LengthReading | None, placed: Reach | None) -> str:
    named = [] if taped is None else [taped.method]
    return ", ".join([*named, *([] if placed is None else ["sheets as placed"])])


def _at_most(demanded: ReachLimit, bound_m: Metres) -> AtMostMetres:
    return AtMostMetres(
        because=demanded.because,
        breach=demanded.breach,
        guard_factor=demanded.guard_factor,
        at_most_m=bound_m,
    )
