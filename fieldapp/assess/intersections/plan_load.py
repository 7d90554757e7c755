"""What the bolts and cables of an intersection carry in plan, beside what its class demands."""

from collections.abc import Iterator
from decimal import Decimal
from functools import partial
from typing import Final

import numpy as np
import shapely

from fieldapp.assess.intersections.plan import Crossing, places_m
from fieldapp.assess.judge import Check, Reading, measured
from fieldapp.assess.load.carried import capacity_of
from fieldapp.assess.load.demand import demands_of
from fieldapp.assess.load.tributary import tributary
from schemas.bodies.intersection import Corner
from schemas.findings import Finding
from schemas.limits import LoadLimit
from schemas.numbers import STEP_FACTOR

_MOST: Final = 9999.0

Carrying = tuple[Corner, float]
"""What stands somewhere, and what it carries [kN]."""


def load_findings(crossing: Crossing) -> Iterator[Finding]:
    """Judge the bolt that carries least of what the class demands of its back.

    Parameters
    ----------
    crossing : Crossing
        Its outline is one. [m]

    Returns
    -------
    iterator of Finding
        Stiff and yielding support is never summed: each carries all alone, and the kind that
        does it better is judged. Cables count once they are plated. [-]

    Source
    ------
    Tributary areas: common practice, no source; see `load.tributary`.
    """
    limit, demands = crossing.rule.load, demands_of(crossing.support_class)
    if limit is None or demands is None or demands.back.pressure_kpa is None:
        return
    yield from _judged(crossing, limit, demands.back.pressure_kpa, demands.back.loosened_m)


def _judged(
    crossing: Crossing, limit: LoadLimit, kpa: float, loosened_m: float
) -> tuple[Finding, ...]:
    check = Check(
        "load",
        "what each bolt carries, over what the ground nearest to it demands, in plan",
        "",
        "Load",
    )
    unseen = crossing.unseen()
    kinds = [it for it in _kinds(crossing, loosened_m) if it and crossing.body.bolts]
    each = [_least(crossing, it, kpa) for it in kinds]
    if not each and not unseen:
        each = [Reading(Decimal(0), Decimal(0), lambda: crossing.place, again=True)]
    best = sorted(each, key=lambda it: it.value)[-1:]
    return measured(check, limit, best, unseen, STEP_FACTOR)


def _kinds(crossing: Crossing, loosened_m: float) -> Iterator[list[Carrying]]:
    """Yield what stands, stiff and yielding apart."""
    angle = float(crossing.support_class.limits.bolt_angle.at_most_deg)
    bolt, cable = crossing.bolt_type, crossing.cable_type
    standing: list[tuple[bool, Carrying]] = []
    for it in crossing.anchored():
        placed = float(bolt.length_m), loosened_m, angle
        carries = capacity_of(bolt, placed, plated=it.plate == "seated")
        standing.append((bolt.yields, (it, carries.kn)))
    if cable is not None and crossing.body.step == "plated":
        for one in crossing.body.cables_at:
            length = float(one.length_m or cable.length_m)
            carries = capacity_of(cable, (length, loosened_m, angle), plated=True)
            standing.append((cable.yields, (one, carries.kn)))
    for yields in (False, True):
        yield [it for kind, it in standing if kind == yields]


def _least(crossing: Crossing, standing: list[Carrying], kpa: float) -> Reading:
    sites = np.array(places_m([it for it, _ in standing]))
    ground = shapely.Polygon(crossing.area.starts)
    areas = tributary(sites, ground).areas_m2(ground)
    factors = [
        min(kn / (area * kpa), _MOST) if area > 0 else _MOST
        for (_, kn), area in zip(standing, areas.tolist(), strict=True)
    ]
    least = int(np.argmin(factors))
    stood = standing[least][0]
    return Reading(
        value=Decimal(repr(factors[least])),
        u=Decimal(0),
        place=partial(crossing.spot, float(stood.x_m), float(stood.y_m)),
        again=True,
    )
