"""What is judged of an intersection's outline and of the bolts of its pattern, in plan."""

import math
from collections.abc import Iterator, Sequence
from decimal import Decimal
from functools import partial
from typing import Final

import numpy as np

from fieldapp.assess.density import density_per_m2
from fieldapp.assess.gaps.largest import largest_gap
from fieldapp.assess.gaps.uncertainty import Doubt, Doubts, gap_uncertainty_m
from fieldapp.assess.intersections.crown import along_rock_m
from fieldapp.assess.intersections.plan import (
    Crossing,
    area_doubt_m2,
    area_m2,
    places_m,
    positions_m,
)
from fieldapp.assess.intersections.span import span_m
from fieldapp.assess.judge import Breach, Check, Reading, answered, measured
from fieldapp.assess.matching import Standing, matched
from schemas.bodies.intersection import PlanBolt
from schemas.bodies.round import Method
from schemas.findings import Finding, Verdict, worst
from schemas.limits import AtMostMetres, GapLimit
from schemas.numbers import STEP_M, STEP_PER_M2, rounded, text

_ROUGH: Final[tuple[Method, ...]] = ("assumed", "paced")
"""What is measured again by a better method, where it lies about a limit."""
_GAP: Final = "widest circle without a bolt, flat in plan, its centre within the outline"


def ground_findings(crossing: Crossing) -> Iterator[Finding]:
    """Yield what the standard says of the span and of the bolts of the pattern.

    Parameters
    ----------
    crossing : Crossing
        Its outline is one. [m]

    Returns
    -------
    iterator of Finding
        Only of what the class's rule demands. [various]

    Source
    ------
    Largest inscribed and largest empty circle; what is demanded is common practice, no source.
    """
    for judge in (_span, _present, _gap, _density):
        yield from judge(crossing)


def _span(crossing: Crossing) -> Iterator[Finding]:
    limit, method = crossing.rule.span, crossing.body.corners_method
    if limit is None:
        return
    check = Check(
        "intersection_span",
        "largest circle within the outline",
        f"corners by {method}" if method != "assumed" else "corners assumed",
        "Span",
    )
    reading = Reading(
        value=Decimal(repr(span_m(crossing.body.corners))),
        u=Decimal(repr(2 * crossing.doubt_m(method))),  # each wall by u at most: the radius too
        place=lambda: crossing.place,
        again=method not in _ROUGH,
        fix=lambda: f"an engineer designs for this span: {crossing.place.words}",
    )
    yield from measured(check, limit, [reading], [], STEP_M)


def _present(crossing: Crossing) -> Iterator[Finding]:
    rule = crossing.rule
    if rule.bolts_present is None or rule.pattern is None:
        return
    demanded = positions_m(crossing.body.corners, rule.pattern)
    spacing_m = float(max(rule.pattern.bolt_spacing_m, rule.pattern.row_spacing_m))
    found = matched(
        places_m(crossing.anchored()), demanded, spacing_m, float(rule.pattern.tolerance_m)
    )
    missing = [
        crossing.spot(*demanded[it.demanded])
        for it in found.positions
        if it.standing is Standing.MISSING
    ]
    breaches = [Breach(it, f"add a bolt, {it.words}") for it in missing]
    unseen = crossing.unseen()[:1] if not crossing.body.bolts else []
    check = Check("bolts_present", "bolts counted in plan", "", "Bolts")
    yield from answered(
        check, rule.bolts_present, [] if unseen else breaches, unseen, len(demanded)
    )


def _gap(crossing: Crossing) -> Iterator[Finding]:
    limit = crossing.rule.largest_gap
    if limit is None:
        return
    first, grave = _two(limit)
    plated = _tested(crossing, crossing.plated(), first, "plated bolts")
    anchored = _tested(crossing, crossing.anchored(), grave, "anchored bolts")
    tested = (plated, anchored)
    graver = max(tested, key=lambda it: (it[0].verdict.gravity, it[0].holds.gravity))
    held = worst([one.holds for found in tested for one in found])
    yield from (one.model_copy(update={"holds": held}) for one in graver)


def _two(limit: GapLimit) -> tuple[AtMostMetres, AtMostMetres]:
    said = {"because": limit.because, "guard_factor": limit.guard_factor}
    return (
        AtMostMetres(**said, breach=limit.breach, at_most_m=limit.at_most_m),
        AtMostMetres(**said, breach=Verdict.NO_ENTRY, at_most_m=limit.no_entry_above_m),
    )


def _tested(
    crossing: Crossing, bolts: Sequence[PlanBolt], limit: AtMostMetres, between: str
) -> tuple[Finding, ...]:
    assumed = any(it.method == "assumed" for it in bolts)
    basis = f"{between}, positions {'assumed' if assumed else 'measured'}, {_shape(crossing)}"
    check = Check("largest_gap", _GAP, basis, "Largest gap")
    unseen = crossing.unseen()
    if not bolts:
        readings = [] if unseen else [_bare(crossing)]
        return measured(check, limit, readings, unseen, STEP_M)
    return measured(
        check, limit, [_widest(crossing, bolts, supposed=bool(unseen))], unseen, STEP_M
    )


def _bare(crossing: Crossing) -> Reading:
    """Give what an outline without a bolt is: all of it one gap."""
    value = rounded(crossing.area.diagonal_m, STEP_M)
    return Reading(value, Decimal(0), lambda: crossing.place, again=True)


def _widest(crossing: Crossing, bolts: Sequence[PlanBolt], *, supposed: bool) -> Reading:
    sites = np.array(places_m(bolts))
    gap = largest_gap(sites, crossing.area, None)
    each = [crossing.doubt_m(it.method) for it in bolts]
    doubts = Doubts(tuple(Doubt(0, it, it) for it in each), (0.0,), 0.0)
    place = partial(crossing.spot, *gap.centre_m, rounded(gap.diameter_m, STEP_M))
    u_m = gap_uncertainty_m(gap, sites, doubts, (crossing.area, None))
    value_m, arch_u_m = _along_rock(crossing, gap.diameter_m)
    return Reading(
        value=Decimal(repr(value_m)),
        u=Decimal(repr(math.hypot(u_m, arch_u_m))),
        place=place,
        again=all(bolts[it].method not in _ROUGH for it in gap.touching),
        fix=lambda: f"add a bolt in the middle of the gap, {place().words}",
        supposed=supposed,
    )


def _along_rock(crossing: Crossing, plan_m: float) -> tuple[float, float]:
    """Give a gap's middle between plan and rock, and the doubt of where between they it lies.

    A width of a rectangular distribution by the square root of twelve (JCGM 100:2008, 4.3.7).
    """
    if crossing.body.crown_m is None:
        return plan_m, 0.0
    crown_m = float(crossing.body.crown_m)
    rock_m = along_rock_m(plan_m, span_m(crossing.body.corners), crown_m)
    return (plan_m + rock_m) / 2, (rock_m - plan_m) / math.sqrt(12)


def _shape(crossing: Crossing) -> str:
    crown_m = crossing.body.crown_m
    if crown_m is None:
        return "flat, in plan"
    return f"between plan and the rock of a crown {text(crown_m)} m higher"


def _density(crossing: Crossing) -> Iterator[Finding]:
    limit = crossing.rule.density
    if limit is None:
        return
    outline = crossing.area.starts
    inside = len(crossing.area.held(np.array(places_m(crossing.anchored())).reshape(-1, 2)))
    yield from measured(
        Check("density", "bolts within the outline, by its area", "", "Bolts per square metre"),
        limit,
        [per_area(crossing, inside, area_m2(outline))] if crossing.body.bolts else [],
        [] if crossing.body.bolts else crossing.unseen(),
        STEP_PER_M2,
    )


def per_area(crossing: Crossing, count: int, area: float) -> Reading:
    """Give a count by the outline's area, with the doubt of its corners.

    Parameters
    ----------
    crossing : Crossing
        Its outline. [m]
    count : int
        Bolts or cables. [-]
    area : float
        Of the outline. [m2]

    Returns
    -------
    Reading
        How many a square metre has. [1/m2]

    Source
    ------
    JCGM 100:2008, 5.1.2.
    """
    method = crossing.body.corners_method
    value = density_per_m2(count, area)
    share = area_doubt_m2(crossing.area.starts, crossing.doubt_m(method)) / area
    return Reading(
        value=Decimal(repr(value)),
        u=Decimal(repr(value * share)),
        place=lambda: crossing.place,
        again=method not in _ROUGH,
    )
