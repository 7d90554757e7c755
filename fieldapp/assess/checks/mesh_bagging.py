"""Broken rock hanging in the mesh."""

from fieldapp.assess.judge import Breach, Check, answered
from fieldapp.assess.seen import Seen
from fieldapp.assess.words import mesh_place
from schemas.bodies.round import BagSeen
from schemas.findings import Finding, Place
from schemas.limits import BaggingLimit
from schemas.numbers import text


def mesh_bagging(seen: Seen, demanded: BaggingLimit) -> tuple[Finding, ...]:
    """Judge it: too deep or too heavy, and nobody goes beneath.

    Parameters
    ----------
    seen : Seen
        Bags marked, or "none seen". [mm]
    demanded : BaggingLimit
        Depth and mass. [mm, t]

    Returns
    -------
    tuple of Finding
        One finding; a place for each bag over a limit. [mm]

    Source
    ------
    Common practice, no source.
    """
    mesh = seen.round.mesh
    breaches = [_breach(bag) for bag in mesh.bags if _is_over(bag, demanded)]
    looked = mesh.no_bagging or mesh.bags
    how = f"deeper than {demanded.at_most_mm} mm or heavier than {demanded.at_most_t} t"
    check = Check("mesh_bagging", how, "looked at all of it")
    unseen = [] if looked else [Place(words="bagging of the mesh")]
    return answered(check, demanded, breaches, unseen)


def _is_over(bag: BagSeen, demanded: BaggingLimit) -> bool:
    heavy = bag.mass_t is not None and bag.mass_t > demanded.at_most_t
    return heavy or bag.depth_mm > demanded.at_most_mm


def _breach(bag: BagSeen) -> Breach:
    place = mesh_place((bag.chainage_m, bag.s_m), f"bag {text(bag.depth_mm)} mm deep")
    return Breach(place, f"nobody beneath; let the rock down, patch: {place.words}")
