"""Every check, in the order in which the round screen lists them.

A check is one module holding one public function of the same name; the limit it needs has
that name in `schemas.standard.Limits`. `tests/house` keeps the three in step.
"""

from collections.abc import Callable
from typing import Any

from fieldapp.assess.checks.barring_down import barring_down
from fieldapp.assess.checks.bolt_angle import bolt_angle
from fieldapp.assess.checks.bolt_spacing import bolt_spacing
from fieldapp.assess.checks.bolt_type import bolt_type
from fieldapp.assess.checks.bolter_check import bolter_check
from fieldapp.assess.checks.bolts_present import bolts_present
from fieldapp.assess.checks.curing import curing
from fieldapp.assess.checks.density import density
from fieldapp.assess.checks.face_made_safe import face_made_safe
from fieldapp.assess.checks.ground_condition import ground_condition
from fieldapp.assess.checks.lap_held import lap_held
from fieldapp.assess.checks.largest_gap import largest_gap
from fieldapp.assess.checks.last_row_marked import last_row_marked
from fieldapp.assess.checks.last_row_to_face import last_row_to_face
from fieldapp.assess.checks.load import load
from fieldapp.assess.checks.lowest_bolt import lowest_bolt
from fieldapp.assess.checks.mesh_bagging import mesh_bagging
from fieldapp.assess.checks.mesh_cover import mesh_cover
from fieldapp.assess.checks.mesh_holes import mesh_holes
from fieldapp.assess.checks.mesh_lap import mesh_lap
from fieldapp.assess.checks.mesh_panel import mesh_panel
from fieldapp.assess.checks.mesh_reach import mesh_reach
from fieldapp.assess.checks.misfires_and_butts import misfires_and_butts
from fieldapp.assess.checks.neighbouring_bolts import neighbouring_bolts
from fieldapp.assess.checks.old_rows import old_rows
from fieldapp.assess.checks.plates_seated import plates_seated
from fieldapp.assess.checks.row_spacing import row_spacing
from fieldapp.assess.checks.shotcrete_thickness import shotcrete_thickness
from fieldapp.assess.checks.torque import torque
from fieldapp.assess.seen import Seen
from schemas.bodies.round import Round
from schemas.findings import Finding

__all__ = ["CHECKS", "Check", "checks_of"]

Check = Callable[[Seen, Any], tuple[Finding, ...]]
"""What was seen and the check's own limit in, findings out."""

CHECKS: tuple[Check, ...] = (
    ground_condition,
    barring_down,
    face_made_safe,
    misfires_and_butts,
    bolter_check,
    old_rows,
    bolts_present,
    neighbouring_bolts,
    largest_gap,
    bolt_spacing,
    row_spacing,
    lowest_bolt,
    density,
    load,
    bolt_type,
    bolt_angle,
    plates_seated,
    torque,
    curing,
    mesh_lap,
    lap_held,
    mesh_reach,
    mesh_holes,
    mesh_bagging,
    mesh_cover,
    mesh_panel,
    shotcrete_thickness,
    last_row_to_face,
    last_row_marked,
)

OF_THE_FACE: frozenset[Check] = frozenset({face_made_safe, last_row_marked})
"""What a round over old support has no face for."""


def checks_of(seen: Round) -> tuple[Check, ...]:
    """Give the checks that a round is judged by.

    Parameters
    ----------
    seen : Round
        The round. [-]

    Returns
    -------
    tuple of Check
        Over old support none of the face; misfires are looked for where it was stripped. [-]

    Source
    ------
    Common practice, no source.
    """
    if seen.over is None:
        return CHECKS
    fired = {misfires_and_butts} if not seen.over.after else set()
    return tuple(check for check in CHECKS if check not in OF_THE_FACE | fired)
