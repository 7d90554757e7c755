"""Entry beneath an intersection: restricted until its cables are drilled, grouted and plated.

Nobody has to lift it: plates that count let it go, and a step that is withdrawn brings it back.
"""

from collections.abc import Iterator
from datetime import datetime, timedelta
from decimal import Decimal

from fieldapp.assess.entry.caps import Cap
from fieldapp.assess.entry.facts import CablesFact, HeadingFacts
from fieldapp.assess.times import time_from
from schemas.bodies.intersection import CableStep, Intersection
from schemas.findings import Verdict
from schemas.numbers import said_m


def cables_fact(
    thing: str,
    revisions: tuple[Intersection, ...],
    heads: tuple[Intersection, ...],
    cures_h: Decimal | None,
) -> CablesFact:
    """Give what an intersection means for entry: the strictest of all that was stated of it.

    Parameters
    ----------
    thing : str
        Its id. [-]
    revisions : tuple of Intersection
        Every one that counts, the first first. [m]
    heads : tuple of Intersection
        Those that stand. [m]
    cures_h : Decimal or None
        How long its grout cures; None where no standard says it. [h]

    Returns
    -------
    CablesFact
        From the outermost place to the innermost, with the most cables. [m]

    Source
    ------
    Common practice, no source: what is stricter stands until it is withdrawn.
    """
    done = {it.step: it for it in revisions}
    grouted = [it.at for it in revisions if it.step == "grouted"]
    return CablesFact(
        thing=thing,
        from_m=min(it.from_m for it in revisions),
        to_m=max(it.to_m for it in revisions),
        cables=max(it.cables for it in revisions),
        done={step: said.count for step, said in done.items() if step != "planned"},
        grouted_at=max(grouted, default=None),
        plated_at=done["plated"].at if "plated" in done else None,
        stands_plated=all(it.step == "plated" for it in heads),
        cures_h=cures_h,
    )


def cable_caps(facts: HeadingFacts, as_at: datetime) -> Iterator[Cap]:
    """Yield why entry beneath an intersection, and inbye of it, is restricted.

    Parameters
    ----------
    facts : HeadingFacts
        Intersections of one heading among them. [m]
    as_at : datetime
        The time for which it is asked. [UTC]

    Returns
    -------
    iterator of Cap
        In no order; one typed beyond the face counts at the face. [m]

    Source
    ------
    Common practice, no source: nobody trusts cables before the last of three steps.
    """
    for it in facts.cables:
        reason = why_it_waits(it, as_at)
        if reason:
            because = f"restricted: cables of the junction at {said_m(it.from_m)} m {reason}"
            line_m = min(it.from_m, facts.face_m)
            yield Cap(line_m, "restricted", Verdict.REWORK, because, origin="stated")


def why_it_waits(it: CablesFact, as_at: datetime) -> str:
    """Say what is missing before an intersection's cables count; time alone never lets them.

    Parameters
    ----------
    it : CablesFact
        What was stated of it. [m]
    as_at : datetime
        The time for which it is asked. [UTC]

    Returns
    -------
    str
        The first step that is missing; nothing where none is. [-]

    Source
    ------
    Common practice, no source.
    """
    steps: tuple[CableStep, ...] = ("drilled", "grouted", "plated")
    for step in steps:
        done = it.done.get(step, 0)
        if done < it.cables:
            reason = f"not {step} yet"
            return f"{reason}: {done} of {it.cables} are" if done else reason
    if not it.stands_plated:
        return "not plated yet: they were worked on since"
    return _not_cured(it, as_at)


def _not_cured(it: CablesFact, as_at: datetime) -> str:
    if it.cures_h is None or it.grouted_at is None or it.plated_at is None:
        return "not known to be cured: no standard here says how long they take"
    cured_at = it.grouted_at + timedelta(hours=float(it.cures_h))
    if as_at < cured_at:
        return f"not cured before {time_from(cured_at, as_at)}"
    if it.plated_at < cured_at:
        return "plated before they had cured, and to be plated once more"
    return ""
