"""The order of opening: the cables first, then the breakaway.

Who opened it before they were as far as the standard asks has hung the ground on what was not
there yet. Plates put on later don't show what that did to it: a geotechnical engineer looks, and
signs the plates.
"""

from collections.abc import Iterator
from datetime import datetime, timedelta
from typing import Final

from fieldapp.assess.intersections.done import Done, since_corrected
from fieldapp.assess.intersections.plan import Crossing
from fieldapp.assess.judge import Breach, Check, answered
from fieldapp.assess.times import time_words
from schemas.bodies.intersection import CableStep, Intersection
from schemas.bodies.person import Role
from schemas.findings import Finding

LOOKS: Final[tuple[Role, ...]] = ("geotechnical engineer",)
"""Who says that ground opened too early may be gone beneath."""
_STEPS: Final[tuple[CableStep, ...]] = ("planned", "drilled", "grouted", "plated")


def breakaway_findings(crossing: Crossing, done: Done) -> Iterator[Finding]:
    """Yield whether an intersection was opened before its cables were as far as is demanded.

    Parameters
    ----------
    crossing : Crossing
        What the class demands before. [-]
    done : Done
        When each step was done, and the breakaway taken. [UTC]

    Returns
    -------
    iterator of Finding
        None while it is not opened. [-]

    Source
    ------
    Common practice, no source: the intersection is supported before the breakaway is taken.
    """
    rule, opened_at = crossing.rule.breakaway, done.opened_at
    if rule is None or opened_at is None:
        return
    stood = _step_at(done, opened_at)
    early = _STEPS.index(stood) < _STEPS.index(rule.step)
    looked = early and _looked_at_since(done, opened_at)
    basis = f"opened {time_words(opened_at)}"
    if looked:
        basis += "; a geotechnical engineer has signed their plates since"
    check = Check("breakaway", "order of the entries", basis, "Breakaway")
    fix = "a geotechnical engineer looks at it, and signs the plates"
    where = crossing.place
    breaches = [Breach(where, fix)] if early and not looked else []
    found = answered(check, rule, breaches, [])
    said = {"measured": f"cables {stood}", "limit": f"{rule.step} demanded", "places": (where,)}
    yield from (it.model_copy(update=said) for it in found)


def _step_at(done: Done, at: datetime) -> CableStep:
    """Give how far all of the cables were at a time: the account that says least decides."""
    most = max((it.cables for it in since_corrected(done.revisions)), default=0)
    before = [it for it in done.revisions if it.at <= at and it.count >= most]
    whole = [it.step for it in before if it.step != "plated" or _had_cured(done, it)]
    return max(whole, key=_STEPS.index, default="planned")


def _had_cured(done: Done, plated: Intersection) -> bool:
    grouted = [it.at for it in done.revisions if it.step == "grouted" and it.at <= plated.at]
    if done.cures_h is None or not grouted:
        return False
    return plated.at >= max(grouted) + timedelta(hours=float(done.cures_h))


def _looked_at_since(done: Done, opened_at: datetime) -> bool:
    return any(
        it.step == "plated" and it.at >= opened_at and it.role in LOOKS for it in done.revisions
    )
