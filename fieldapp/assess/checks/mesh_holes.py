"""Holes in the mesh above people."""

from fieldapp.assess.judge import Breach, Check, answered
from fieldapp.assess.seen import Seen
from fieldapp.assess.words import counted, mesh_place
from schemas.bodies.round import HoleSeen
from schemas.findings import Finding, Place
from schemas.limits import HoleLimit


def mesh_holes(seen: Seen, demanded: HoleLimit) -> tuple[Finding, ...]:
    """Judge them: larger than the limit and high enough to fall on people.

    Parameters
    ----------
    seen : Seen
        Holes marked, or "none seen". [-]
    demanded : HoleLimit
        Openings and height above the floor. [m]

    Returns
    -------
    tuple of Finding
        One finding; no foot traffic until a hole is patched. [-]

    Source
    ------
    Common practice, no source.
    """
    mesh = seen.round.mesh
    breaches = [_breach(hole) for hole in mesh.holes if _is_over(hole, demanded)]
    unseen = [] if mesh.no_holes or mesh.holes else [Place(words="holes in the mesh")]
    lower = len(mesh.holes) - len(breaches)
    how = f"larger than {counted(demanded.at_most_openings, 'opening')}, above "
    how += f"{demanded.above_floor_m} m"
    how += f"; {counted(lower, 'hole')} within that" if lower else ""
    check = Check("mesh_holes", how, "looked at all of it")
    return answered(check, demanded, breaches, unseen)


def _is_over(hole: HoleSeen, demanded: HoleLimit) -> bool:
    large = hole.openings > demanded.at_most_openings
    return large and hole.above_floor_m > demanded.above_floor_m


def _breach(hole: HoleSeen) -> Breach:
    words = f"hole of {counted(hole.openings, 'opening')}"
    place = mesh_place((hole.chainage_m, hole.s_m), words)
    return Breach(place, f"nobody on foot beneath until patched: {place.words}")
