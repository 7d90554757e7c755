"""Rock that no placed sheet of mesh covers."""

from decimal import Decimal
from typing import TYPE_CHECKING

from fieldapp.assess.judge import Check, Reading, measured
from fieldapp.assess.mesh.placed import placed_sheets
from fieldapp.assess.rows_judged import not_known
from fieldapp.assess.seen import Seen
from fieldapp.assess.words import mesh_place
from schemas.findings import Finding, Place, Verdict
from schemas.limits import CoverLimit
from schemas.numbers import SAID_M, STEP_M2, rounded, text

if TYPE_CHECKING:
    from shapely import Polygon

_HOW = "between the joint and the last row, where no sheet lies that plates hold"


def mesh_cover(seen: Seen, demanded: CoverLimit) -> tuple[Finding, ...]:
    """Judge it: the area together of all bare places wider than the openings that don't count.

    Parameters
    ----------
    seen : Seen
        Sheets, rows and bolts. [m]
    demanded : CoverLimit
        The bound, and the openings that don't count. [m2]

    Returns
    -------
    tuple of Finding
        One, with every bare place; none where nobody placed a sheet: such mesh is judged by its
        taped laps and its reach. [m2]

    Source
    ------
    Common practice, no source; union of rectangles as in `fieldapp.assess.mesh.cover`.
    """
    mesh, sheets = seen.support_class.mesh, placed_sheets(seen)
    if mesh is None or not sheets:
        return ()
    from fieldapp.assess.mesh.cover import cover_of  # shapely comes with it, where it is needed

    cover = cover_of(seen, float(demanded.at_most_openings * mesh.pitch_mm / 1000))
    bare = [_place(seen, piece) for piece in cover.bare]
    unseen = [Place(words=f"{it.name}: as standard, assumed") for it in sheets if not it.is_read]
    unseen += [place for row in seen.rows for place in not_known(row)]
    area = Decimal(repr(cover.area_m2))
    reading = Reading(
        value=area,
        u=Decimal(repr(cover.u_m2)),
        place=lambda: bare[0] if bare else Place(words="edges of the sheets"),
    )
    check = Check("mesh_cover", _HOW, "sheets as placed", "Rock without mesh")
    found = measured(check, demanded, [reading], unseen, STEP_M2)
    return tuple(_with_places(one, bare) for one in found)


def _place(seen: Seen, bare: "Polygon") -> Place:
    """Give a bare place; the row that it keeps from being complete is the next one inbye."""
    inside = bare.representative_point()
    at = (rounded(inside.x, SAID_M), rounded(inside.y, SAID_M))
    place = mesh_place(at, f"{text(rounded(bare.area, STEP_M2))} m² bare")
    begins_m = bare.bounds[0]
    row = next((it for it in seen.rows if float(it.chainage_m) > begins_m), seen.all_rows[-1])
    return place.model_copy(update={"row": row.number})


def _with_places(found: Finding, bare: list[Place]) -> Finding:
    """Name every bare place, and the job there, where a finding is about them."""
    if found.verdict not in (Verdict.REWORK, Verdict.NO_ENTRY, Verdict.FIX_THIS_SHIFT):
        return found
    jobs = tuple(f"cover with mesh and plate it: {place.words}" for place in bare)
    return found.model_copy(update={"places": tuple(bare), "fix": jobs})
