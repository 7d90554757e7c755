"""What is judged of an intersection's cables: how many, how long, how tight, and how dense."""

from collections.abc import Iterator
from decimal import Decimal
from functools import partial

from fieldapp.assess.intersections.ground import per_area
from fieldapp.assess.intersections.plan import Crossing, area_m2
from fieldapp.assess.judge import Breach, Check, Reading, answered, measured
from schemas.bodies.intersection import PlanCable
from schemas.findings import Finding, Place, Verdict
from schemas.limits import Demanded
from schemas.numbers import STEP_KN, STEP_M, STEP_PER_M2


def cable_findings(crossing: Crossing) -> Iterator[Finding]:
    """Yield what the standard says of the cables.

    Parameters
    ----------
    crossing : Crossing
        Its outline is one. [m]

    Returns
    -------
    iterator of Finding
        Only of what the class's rule demands; until they are drilled none is there to be
        looked at, and entry waits for them all the same. [various]

    Source
    ------
    Common practice, no source.
    """
    for judge in (_planned, _dense, _long, _tight):
        yield from judge(crossing)


def _planned(crossing: Crossing) -> Iterator[Finding]:
    """Compare what was planned with what the class demands at least."""
    rule, planned = crossing.rule.cables, crossing.body.cables
    if rule is None or rule.at_least is None:
        return
    limit = Demanded(because=rule.because, breach=Verdict.REWORK)
    short = max(0, rule.at_least - planned)
    fix = f"plan {short} more, at least {rule.at_least} in all"
    breaches = [Breach(crossing.place, fix)] * bool(short)
    check = Check(
        "cables_planned", "cables planned", f"at least {rule.at_least}", "Cables planned"
    )
    found = answered(check, limit, breaches, [])
    yield from (it.model_copy(update=_counted(planned, rule.at_least)) for it in found)


def _counted(count: int, at_least: int) -> dict[str, str]:
    return {"measured": f"{count}", "limit": f"at least {at_least}"}


def _dense(crossing: Crossing) -> Iterator[Finding]:
    rule = crossing.rule.cables
    if rule is None or rule.density is None:
        return
    reading = per_area(crossing, crossing.body.cables, area_m2(crossing.area.starts))
    check = Check("cable_density", "cables planned, by the outline's area", "", "Cables per m²")
    yield from measured(check, rule.density, [reading], [], STEP_PER_M2)


def _long(crossing: Crossing) -> Iterator[Finding]:
    rule = crossing.rule.cables
    if rule is None or rule.length is None or crossing.body.step == "planned":
        return
    each = [(it, it.length_m) for it in crossing.body.cables_at]
    check = Check("cable_length", "length of each cable, as it was told", "", "Length of cables")
    yield from measured(
        check,
        rule.length,
        [_reading(crossing, it, value) for it, value in each if value is not None],
        _untold(crossing, [it for it, value in each if value is None], "length"),
        STEP_M,
    )


def _tight(crossing: Crossing) -> Iterator[Finding]:
    rule = crossing.rule.cables
    if rule is None or rule.tension is None or crossing.body.step != "plated":
        return
    each = [(it, it.tension_kn) for it in crossing.body.cables_at]
    check = Check(
        "cable_tension", "tension of each cable, as it was read", "", "Tension of cables"
    )
    yield from measured(
        check,
        rule.tension,
        [_reading(crossing, it, value) for it, value in each if value is not None],
        _untold(crossing, [it for it, value in each if value is None], "tension"),
        STEP_KN,
    )


def _reading(crossing: Crossing, cable: PlanCable, value: Decimal) -> Reading:
    return Reading(value, Decimal(0), partial(_place, crossing, cable), again=True)


def _place(crossing: Crossing, cable: PlanCable) -> Place:
    spot = crossing.spot(float(cable.x_m), float(cable.y_m))
    return spot.model_copy(update={"words": f"cable at {spot.words}"})


def _untold(crossing: Crossing, cables: list[PlanCable], what: str) -> list[Place]:
    """Name those of which nobody told it, and how many were not recorded at all."""
    found = [_place(crossing, it) for it in cables]
    missing = crossing.body.cables - len(crossing.body.cables_at)
    if missing > 0:
        words = f"the {what} of {missing} of {crossing.body.cables} cables"
        found.append(crossing.place.model_copy(update={"words": words}))
    return found
