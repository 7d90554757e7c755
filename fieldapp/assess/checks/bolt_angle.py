"""Angles of bolts off the normal to the rock."""

from fieldapp.assess.bolts_seen import Bolt
from fieldapp.assess.judge import Breach, Check, Reading, answered, measured
from fieldapp.assess.rows_judged import not_looked_at
from fieldapp.assess.seen import Seen
from schemas.findings import Finding
from schemas.limits import AtMostDegrees
from schemas.numbers import STEP_DEG

HOW = "off the normal to the rock"


def bolt_angle(seen: Seen, demanded: AtMostDegrees) -> tuple[Finding, ...]:
    """Judge them: those measured by their value, the others as they were looked at.

    Parameters
    ----------
    seen : Seen
        Bolts marked by themselves. [deg]
    demanded : AtMostDegrees
        The bound. [deg]

    Returns
    -------
    tuple of Finding
        One for what was looked at, a row counted "as standard" too; one for what was gauged. [deg]

    Source
    ------
    Common practice, no source.
    """
    bolts = [bolt for row in seen.rows for bolt in row.all_bolts if bolt.is_there]
    unseen = [place for row in seen.rows for place in not_looked_at(row)]
    over = [Breach(bolt.place, _fix(bolt)) for bolt in bolts if _is_over(bolt)]
    looked = Check("bolt_angle", HOW, "looked at row by row")
    findings = [*answered(looked, demanded, over, unseen)]
    readings = [reading for bolt in bolts if (reading := _reading(seen, bolt))]
    if readings:
        gauged = Check("bolt_angle", HOW, "gauge, or edge gap of the plate", "Bolt angle, gauged")
        findings += measured(gauged, demanded, readings, [], STEP_DEG)
    return tuple(findings)


def _is_over(bolt: Bolt) -> bool:
    mark = bolt.mark
    return mark is not None and mark.angle_deg is None and bool(mark.angle_over_limit)


def _reading(seen: Seen, bolt: Bolt) -> Reading | None:
    if bolt.mark is None or bolt.mark.angle_deg is None:
        return None
    return Reading(
        value=bolt.mark.angle_deg,
        u=seen.measuring.angle_deg,
        place=lambda: bolt.place,
        again=True,  # the gauge is the better method: the eye was the first look
        fix=lambda: _fix(bolt),
        zone=bolt.zone,
    )


def _fix(bolt: Bolt) -> str:
    return f"add a bolt square to the rock, {bolt.place.words}"
