"""Whether a sheet can lie as it was placed: no larger than it comes, on the rock of its round."""

from decimal import Decimal
from typing import Final

from fieldapp.assess.mesh.placed import Box, Edge, Placed
from fieldapp.assess.readings import face_readings
from fieldapp.assess.seen import Seen
from fieldapp.assess.take_off.mesh import strip_width_m
from fieldapp.assess.uncertainty import combined_uncertainty
from schemas.numbers import STEP_M, rounded, text
from schemas.standard import Mesh

ON_THE_FLOOR_M: Final = Decimal("0.5")
"""So far a sheet may trail over the floor: common practice, no source."""
_SAID_M: Final = Decimal("0.01")
_COVERAGE: Final = 2
"""Two readings of one thing differ by more than twice their uncertainty once in twenty times."""


def rock_of(seen: Seen) -> Box:
    """Give the rock that sheets of a round may lie on.

    Parameters
    ----------
    seen : Seen
        Rows, profiles and the face. [m]

    Returns
    -------
    Box
        From a sheet behind the old rows to a row past the face, and from floor to floor. [m]

    Source
    ------
    Common practice, no source.
    """
    mesh, row_m = seen.support_class.mesh, seen.support_class.pattern.row_spacing_m
    behind_m = max(mesh.along_drive_m, mesh.across_m) if mesh else row_m
    face_m = max((it.value_m for it in face_readings(seen.round).values()), default=row_m)
    floors = [row.profile.floor_s_m for row in seen.all_rows]
    return Box(
        from_m=max(Decimal(0), seen.all_rows[0].chainage_m - behind_m),
        to_m=seen.all_rows[-1].chainage_m + face_m + row_m,
        left_s_m=rounded(min(left for left, _ in floors), STEP_M) - ON_THE_FLOOR_M,
        right_s_m=rounded(max(right for _, right in floors), STEP_M) + ON_THE_FLOOR_M,
    )


def doubted(seen: Seen, sheet: Placed) -> str | None:
    """Say why a sheet can't lie as it was placed.

    Parameters
    ----------
    seen : Seen
        The round. [m]
    sheet : Placed
        One of its sheets. [m]

    Returns
    -------
    str or None
        None where it can: it lies on the round's rock, and is no larger than what the standard
        states, whichever side lies along the drive; of a strip, no longer than its roll. [-]

    Source
    ------
    Common practice, no source; twice the uncertainty as in JCGM 100:2008, G.6.6.
    """
    if not rock_of(seen).holds(sheet.box):
        return f"sheet {sheet.number} does not lie in this round"
    domain = seen.domains[seen.row_at(sheet.box.middle_m[0]).domain]
    mesh = domain.support_class.mesh
    if mesh is None:
        return None
    along_m = sheet.box.to_m - sheet.box.from_m
    across_m = sheet.box.right_s_m - sheet.box.left_s_m
    sides_m = (
        along_m - _room_m(seen, sheet, ("outbye", "inbye"), mesh),
        across_m - _room_m(seen, sheet, ("left", "right"), mesh),
    )
    shortest_m, longest_m = _largest_m(seen, mesh)
    if min(sides_m) <= shortest_m and (longest_m is None or max(sides_m) <= longest_m):
        return None
    along, across = _said(along_m), _said(across_m)
    if longest_m is None:
        return f"sheet {sheet.number} is {along} m by {across} m, wider than {_said(shortest_m)} m"
    largest, by = _said(shortest_m), _said(longest_m)
    return f"sheet {sheet.number} is {along} m by {across} m, larger than {largest} m by {by} m"


def _room_m(seen: Seen, sheet: Placed, edges: tuple[Edge, Edge], mesh: Mesh) -> Decimal:
    """Give by how much a side may seem too long: an opening, and the doubt of both edges."""
    both = [(1.0, float(seen.doubts_m[sheet.methods[edge]])) for edge in edges]
    return mesh.pitch_mm / 1000 + _COVERAGE * Decimal(repr(combined_uncertainty(both)))


def _largest_m(seen: Seen, mesh: Mesh) -> tuple[Decimal, Decimal | None]:
    """Give the shorter and the longer side of the largest piece there is; None: of any length.

    A strip is as wide as it is ordered for a round, and as long as its roll or pack.
    """
    stated = sorted((mesh.along_drive_m, mesh.across_m))
    if mesh.kind == "sheets of welded mesh":
        return stated[0], stated[1]
    limit = seen.support_class.limits.mesh_lap
    lap_m = Decimal(0) if limit is None else limit.at_least_mm / 1000
    face_m = max((it.value_m for it in face_readings(seen.round).values()), default=Decimal(0))
    advance_m = seen.all_rows[-1].chainage_m - seen.round.joint_m + face_m
    ordered_m = strip_width_m(advance_m, lap_m, mesh.strip_width_step_m)
    stock = [it for it in (mesh.roll_length_m, mesh.pack_length_m) if it is not None]
    longest_m = max((*stock, mesh.across_m)) if stock else None
    return max(mesh.along_drive_m, ordered_m), longest_m


def _said(length_m: Decimal) -> str:
    return text(rounded(length_m, _SAID_M))
