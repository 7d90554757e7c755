"""Intersections in plan, judged by the pattern of their class.

Nothing is judged where the class states no rule for intersections.
"""

from fieldapp.assess.intersections.breakaway import breakaway_findings
from fieldapp.assess.intersections.cables import cable_findings
from fieldapp.assess.intersections.done import Done
from fieldapp.assess.intersections.ground import ground_findings
from fieldapp.assess.intersections.plan import Crossing, positions_m
from fieldapp.assess.intersections.plan_load import load_findings
from fieldapp.assess.judge import Breach, Check, answered
from schemas.findings import Finding, Verdict
from schemas.limits import Demanded

__all__ = ["Crossing", "Done", "intersection_findings", "positions_m"]


def intersection_findings(crossing: Crossing, done: Done) -> tuple[Finding, ...]:
    """Say everything that the standard says of an intersection as it stands.

    Parameters
    ----------
    crossing : Crossing
        Outline, bolts, cables, and the class's rule. [m]
    done : Done
        When its cables were put in, and when it was opened. [UTC]

    Returns
    -------
    tuple of Finding
        The worst first. [various]

    Source
    ------
    Common practice, no source.
    """
    found = [*breakaway_findings(crossing, done)]
    if crossing.why_no_outline:
        found += _no_outline(crossing)
    else:
        found += [
            *ground_findings(crossing),
            *cable_findings(crossing),
            *load_findings(crossing),
        ]
    return tuple(sorted(found, key=lambda it: -it.verdict.gravity))


def _no_outline(crossing: Crossing) -> tuple[Finding, ...]:
    """Hold what can't be judged: an outline that another tablet took."""
    limit = Demanded(because="common practice", breach=Verdict.REWORK)
    check = Check("intersection_span", "outline in plan", "", "Outline")
    where = crossing.place.model_copy(update={"words": crossing.why_no_outline})
    return answered(check, limit, [Breach(where, "draw its outline again")], [])
