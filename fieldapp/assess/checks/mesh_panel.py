"""Whether a bay of mesh can hold the broken rock that may hang in it."""

from collections.abc import Callable, Iterator
from decimal import Decimal

from fieldapp.assess.bolts_seen import Bolt
from fieldapp.assess.judge import Check, Reading, answered, measured
from fieldapp.assess.mesh.bays import Bay, bays
from fieldapp.assess.mesh.panel import G_KN_PER_T, bay_load_kn
from fieldapp.assess.rows_judged import mended, not_known
from fieldapp.assess.seen import Seen
from fieldapp.assess.words import beside_crown, mesh_place, spot
from schemas.bodies.round import BagSeen
from schemas.findings import Finding, Place
from schemas.limits import AtMostKilonewtons, PanelLimit
from schemas.numbers import STEP_KN, rounded, text
from schemas.standard import Mesh


def mesh_panel(seen: Seen, demanded: PanelLimit) -> tuple[Finding, ...]:
    """Judge it: the heaviest bay, or the heaviest bag seen, against the panel load of the mesh.

    Parameters
    ----------
    seen : Seen
        Rows and plates as they are, and bags. [m]
    demanded : PanelLimit
        Thickness and unit weight of the broken rock. [m], [kN/m3]

    Returns
    -------
    tuple of Finding
        The heaviest; it never lets a gap between the bolts stand. Not looked at where the
        standard states no panel load by the rig that its limit was set for. [kN]

    Source
    ------
    Common practice, no source. Loads from different rigs are never compared: the same energy,
    dropped in four shapes, left 5.69 to 2.55 kJ in one mesh.
    """
    mesh = seen.support_class.mesh
    if mesh is None or mesh.panel_kn is None or mesh.panel_rig != demanded.rig:
        nowhere = Place(words="no panel load of this mesh by the rig of the limit")
        how = "figures of different rigs are never compared"
        check = Check("mesh_panel", how, "", "Broken rock in a bay of mesh")
        return answered(check, demanded, [], [nowhere])
    how = _how(mesh, demanded)
    check = Check("mesh_panel", how, "plates as seen", "Broken rock in a bay of mesh")
    limit = AtMostKilonewtons(
        because=demanded.because,
        breach=demanded.breach,
        guard_factor=demanded.guard_factor,
        at_most_kn=mesh.panel_kn,
    )
    of_bays = [_of_bay(bay, demanded) for bay in bays(seen)]
    unseen = [place for row in seen.rows for place in not_known(row)]
    if not of_bays:
        unseen.append(Place(words="no bay has plates at its corners"))
    readings = [*of_bays, *_of_bags(seen)]
    return measured(check, limit, readings, unseen, STEP_KN)


def _how(mesh: Mesh, demanded: PanelLimit) -> str:
    rock = f"{text(demanded.loosened_m)} m of rock at {text(demanded.rock_kn_per_m3)} kN/m³"
    panel = f"panel as tested {mesh.panel_rig} ({mesh.panel_because or 'common practice'})"
    return f"bay between the plates that are there × {rock}; {panel}"


def _of_bay(bay: Bay, demanded: PanelLimit) -> Reading:
    per_m2, first = (demanded.loosened_m, demanded.rock_kn_per_m3), _first_missing(bay)
    return Reading(
        value=bay_load_kn(Decimal(repr(bay.area_m2)), *per_m2),
        u=bay_load_kn(Decimal(repr(bay.u_m2)), *per_m2),
        place=lambda: _place(bay),
        fix=lambda: mended(first) if first else f"add a plated bolt in the {_place(bay).words}",
        zone=bay.beside.zone,
    )


def _place(bay: Bay) -> Place:
    """Say where a bay is; it bars the first row that lacks a plate of it, else the row inbye."""
    row = bay.without[0].row if bay.without else bay.inbye.number
    found = spot(row, (bay.beside.chainage_m, bay.s_m), bay.beside.zone, None)
    across, along = f"{bay.across_m:.2f}", f"{bay.along_m:.2f}"
    first, last, aside = bay.outbye.name, bay.inbye.name, beside_crown(bay.s_m)
    words = f"bay of {across} m by {along} m, {first} to {last}, {aside}"
    return found.model_copy(update={"words": words})


def _first_missing(bay: Bay) -> Bolt | None:
    """Give the position to mend first; None where the plates are there and hold no mesh."""
    return next((it for it in bay.without if not it.plated), None)


def _of_bags(seen: Seen) -> Iterator[Reading]:
    """Give what hangs in the mesh already, where somebody told how heavy it is."""
    for bag in seen.round.mesh.bags:
        if bag.mass_t is not None:
            yield Reading(rounded(bag.mass_t * G_KN_PER_T, STEP_KN), Decimal(0), _at(bag))


def _at(bag: BagSeen) -> Callable[[], Place]:
    return lambda: mesh_place((bag.chainage_m, bag.s_m), "bag")
