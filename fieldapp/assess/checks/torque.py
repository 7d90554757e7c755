"""Torque at installation, on the bolts that the rule names."""

from fieldapp.assess.bolts_seen import Bolt
from fieldapp.assess.judge import Check, Reading, measured
from fieldapp.assess.readings import torque_readings
from fieldapp.assess.seen import Seen
from fieldapp.assess.torque_sample import bolts_to_read
from schemas.bodies.round import TorqueSeen
from schemas.findings import Finding
from schemas.limits import Measured, TorqueLimit
from schemas.numbers import STEP_NM, NewtonMetres


def torque(seen: Seen, demanded: TorqueLimit) -> tuple[Finding, ...]:
    """Judge it: every bolt of the rule was read, and each is inside the window.

    What was read of a bolt that is not there any more is no answer.

    Parameters
    ----------
    seen : Seen
        Torques, the latest of each bolt. [N·m]
    demanded : TorqueLimit
        The rule and both ends of the window. [N·m]

    Returns
    -------
    tuple of Finding
        The graver of too low and too high, and beside it the bolts that nobody read. [N·m]

    Source
    ------
    30 CFR 57.3203(f)(1) and (2) for the rule and the window; that the sample widens is common
    practice, no source.
    """
    bolts = [bolt for row in seen.rows for bolt in row.bolts.positions]
    named = bolts_to_read([bolt.is_there for bolt in bolts], demanded, seen.round.torques)
    read = torque_readings(seen.round.torques)
    unseen = [bolts[n - 1].place for n in named if n not in read]
    readings = [
        _reading(seen, bolts[n - 1], one)
        for n, one in sorted(read.items())
        if n <= len(bolts) and bolts[n - 1].is_there
    ]
    check = Check("torque", f"{demanded.rule}, n = {demanded.n}", "torque wrench")
    low = measured(check, demanded, readings, unseen, STEP_NM)
    high = measured(check, _AtMost.of(demanded), readings, unseen, STEP_NM)
    return max(low, high, key=lambda found: _gravity(found[0]))


class _AtMost(Measured):
    """The upper end of the window, judged like any bound."""

    bound_field = "at_most_nm"
    unit = "N·m"

    at_most_nm: NewtonMetres

    @classmethod
    def of(cls, limit: TorqueLimit) -> "_AtMost":
        return cls(
            because=limit.because,
            breach=limit.breach,
            guard_factor=limit.guard_factor,
            at_most_nm=limit.at_most_nm,
        )


def _reading(seen: Seen, bolt: Bolt, torque: TorqueSeen) -> Reading:
    return Reading(
        value=torque.torque_nm,
        u=seen.measuring.torque_nm,
        place=lambda: bolt.place,
        again=torque.again,
        fix=lambda: f"torque again, {bolt.place.words}, and the next two; all if one is out",
        zone=bolt.zone,
    )


def _gravity(finding: Finding) -> tuple[int, int]:
    return finding.verdict.gravity, finding.holds.gravity
