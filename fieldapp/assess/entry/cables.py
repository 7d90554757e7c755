"""Entry beneath an intersection: restricted until its cables are drilled, grouted and plated.

Nobody has to lift it: plates that count let it go, and a step that is withdrawn brings it back.
"""

from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime, timedelta
from decimal import Decimal

from fieldapp.assess.entry.caps import Cap, shut
from fieldapp.assess.entry.facts import CablesFact, HeadingFacts
from fieldapp.assess.intersections.done import since_corrected
from fieldapp.assess.times import time_from
from schemas.bodies.intersection import CableStep, Intersection
from schemas.findings import Finding, Verdict
from schemas.numbers import said_m


def cables_fact(
    thing: str,
    revisions: tuple[Intersection, ...],
    heads: tuple[Intersection, ...],
    cures_h: Decimal | None,
    findings: tuple[Finding, ...] = (),
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
    findings : tuple of Finding
        What the standard of its day says of it. [various]

    Returns
    -------
    CablesFact
        From the outermost place to the innermost, with the most cables, of all that was stated
        since it was put right last. [m]

    Source
    ------
    Common practice, no source: what is stricter stands until it is withdrawn or put right.
    """
    done = {it.step: it for it in revisions}
    standing = (*since_corrected(revisions), *heads)
    grouted = [it.at for it in revisions if it.step == "grouted"]
    return CablesFact(
        thing=thing,
        from_m=min(it.from_m for it in standing),
        to_m=max(it.to_m for it in standing),
        cables=max(it.cables for it in standing),
        done={step: said.count for step, said in done.items() if step != "planned"},
        grouted_at=max(grouted, default=None),
        plated_at=done["plated"].at if "plated" in done else None,
        stands_plated=all(it.step == "plated" for it in heads),
        refused=next((it.refused_because for it in heads if it.refused_because), ""),
        cures_h=cures_h,
        findings=findings,
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
        line_m = min(it.from_m, facts.face_m)
        reason = why_it_waits(it, as_at)
        if reason:
            because = f"restricted: cables of the junction at {said_m(it.from_m)} m {reason}"
            yield Cap(line_m, "restricted", Verdict.REWORK, because, origin="stated")
        for found in it.findings:
            if found.holds.gravity > Verdict.FIX_THIS_SHIFT.gravity and not (
                reason and found.verdict is Verdict.NOT_LOOKED_AT
            ):
                yield _finding_cap(found, it.from_m, line_m)


def _finding_cap(found: Finding, from_m: Decimal, line_m: Decimal) -> Cap:
    """Withdraw or restrict entry by what the standard says that a breach means.

    What nobody looked at yet restricts it, as the cables do until they are plated.
    """
    because = f"junction at {said_m(from_m)} m: {finding_words(found)}"
    if found.holds is Verdict.NO_ENTRY and found.verdict is not Verdict.NOT_LOOKED_AT:
        return replace(shut(line_m, found.holds, because), origin="stated")
    because = f"restricted: {because}"
    return Cap(line_m, "restricted", found.holds, because, origin="stated")


def finding_words(found: Finding) -> str:
    """Say a finding of an intersection in a line.

    Parameters
    ----------
    found : Finding
        What the standard says. [any]

    Returns
    -------
    str
        "span 9.20 m, at most 8.5 m". [any]

    Source
    ------
    Common practice, no source.
    """
    said = found.title[:1].lower() + found.title[1:]
    if found.measured is None:
        return f"{said}: {found.verdict}"
    unit = f" {found.unit}" if found.unit else ""
    limit = f", {found.limit}{unit}" if found.limit else ""
    verdict = f": {found.verdict}" if found.verdict is Verdict.MEASURE_AGAIN else ""
    between = " " if found.measured[0].isdigit() else ": "
    return f"{said}{between}{found.measured}{unit}{limit}{verdict}"


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
            said = f"{reason}: {done} of {it.cables} are" if done else reason
            return said + (_refused(it) or (_curing(it, as_at) if step == "plated" else ""))
    if not it.stands_plated:
        return "not plated yet" + (_refused(it) or ": to be signed once more")
    return _not_cured(it, as_at)


def _cured_at(it: CablesFact) -> datetime | None:
    if it.cures_h is None or it.grouted_at is None:
        return None
    return it.grouted_at + timedelta(hours=float(it.cures_h))


def _curing(it: CablesFact, as_at: datetime) -> str:
    cured_at = _cured_at(it)
    return f"; cured from {time_from(cured_at, as_at)}" if cured_at and as_at < cured_at else ""


def _refused(it: CablesFact) -> str:
    return f"; refused: {it.refused}" if it.refused else ""


def _not_cured(it: CablesFact, as_at: datetime) -> str:
    cured_at = _cured_at(it)
    if cured_at is None or it.plated_at is None:
        return "not known to be cured: no standard here says how long they take"
    if as_at < cured_at:
        return f"not cured before {time_from(cured_at, as_at)}"
    if it.plated_at < cured_at:
        return "plated before they had cured, and to be plated once more"
    return ""
