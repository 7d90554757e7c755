"""All findings of a round together: order, headline, jobs, and how far it is complete."""

from collections import Counter
from collections.abc import Collection, Iterable, Sequence
from decimal import Decimal
from typing import Final

from fieldapp.assess.by_domain import by_each_class, findings_of
from fieldapp.assess.contradictions import contradictions, deviations_standing
from fieldapp.assess.covered import covered
from fieldapp.assess.cured import cured_at, is_cured
from fieldapp.assess.entry.line import RowStanding, entry_line
from fieldapp.assess.mesh.reach import reach_to_face
from fieldapp.assess.readings import face_readings
from fieldapp.assess.seen import Row, Seen, seen_in
from fieldapp.assess.shaken import not_inspected
from schemas.bundle import Bundle
from schemas.findings import Assessment, Finding, Verdict, worst

METHOD_VERSION: Final = 6
"""Raised whenever the same bundle can come to another assessment."""

NOT_SEEN: Final = ("bond", "hidden length", "grout", "ground behind mesh")

_HIGHEST_CHAINAGE_M: Final = Decimal(99_999)


def assessed(bundle: Bundle) -> Assessment:
    """Judge a round by every check of its class.

    Parameters
    ----------
    bundle : Bundle
        Round, standard, the round before, deviations, and the time. [various]

    Returns
    -------
    Assessment
        The same bytes for the same bundle. [various]

    Raises
    ------
    UnknownSupportClass
        The round's class is not in the standard.

    Source
    ------
    Common practice, no source.
    """
    seen = seen_in(bundle)
    standing = deviations_standing(bundle)
    contradicted = contradictions(bundle, seen)
    by_standard = covered(findings_of(seen), standing, bundle.as_at)
    findings = (*not_inspected(seen), *by_standard, *contradicted)
    ordered = _ordered(findings)
    return Assessment(
        method_version=METHOD_VERSION,
        as_at=bundle.as_at,
        heading=bundle.heading.name,
        round=bundle.round.name,
        standard=bundle.round.standard,
        support_class=bundle.round.class_said,
        findings=ordered,
        headline=headline([finding.verdict for finding in ordered]),
        rows_complete_to_m=None
        if any(place.row is None for it in contradicted for place in it.places)
        else _complete_by_all(seen, findings),
        cured_at=max(filter(None, map(cured_at, by_each_class(seen))), default=None),
        fix_list=tuple(dict.fromkeys(job for finding in ordered for job in finding.fix)),
        not_seen=NOT_SEEN,
    )


def worst_first(bundle: Bundle, checks: Collection[str]) -> tuple[Finding, ...]:
    """Judge a round by some checks of its class alone.

    Parameters
    ----------
    bundle : Bundle
        Round, standard, the round before, deviations, and the time. [various]
    checks : collection of str
        By their names. [-]

    Returns
    -------
    tuple of Finding
        As in the whole assessment, the worst first. [various]

    Raises
    ------
    UnknownSupportClass
        The round's class is not in the standard.

    Source
    ------
    Common practice, no source.
    """
    found = findings_of(seen_in(bundle), checks)
    return _ordered(covered(found, deviations_standing(bundle), bundle.as_at))


def _ordered(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    return tuple(sorted(findings, key=lambda finding: -finding.verdict.gravity))


def headline(verdicts: Sequence[Verdict]) -> str:
    """Say the worst, and what it would hide: "rework, 2 not looked at".

    Parameters
    ----------
    verdicts : sequence of Verdict
        One a finding. [-]

    Returns
    -------
    str
        The worst verdict, then how many others are graver than "fix this shift". [-]

    Source
    ------
    Common practice, no source.
    """
    first = worst(list(verdicts))
    counts = Counter(verdicts)
    hidden = (Verdict.REWORK, Verdict.NOT_LOOKED_AT, Verdict.MEASURE_AGAIN)
    shown = [f"{counts[it]} {it}" for it in hidden if counts[it] and it is not first]
    said = f"{counts[first]} {first}" if first in hidden[1:] else str(first)
    return ", ".join([said, *shown])


def _complete_by_all(seen: Seen, findings: Sequence[Finding]) -> Decimal | None:
    """Give how far it is complete by each of its classes: the least counts."""
    lines = [_complete_to(it, findings) for it in by_each_class(seen)]
    known = [it for it in lines if it is not None]
    return min(known) if len(known) == len(lines) else None


def _complete_to(seen: Seen, findings: Iterable[Finding]) -> Decimal | None:
    barred = {
        place.row
        for finding in findings
        if not finding.lets_sign
        for place in finding.places
        if place.row is not None
    }
    if barred & {row.number for row in seen.old_rows}:
        return None
    if seen.support_class.limits.mesh_reach is not None and not _mesh_edge_is_known(seen):
        return None
    rows = [RowStanding(row.chainage_m, _is_complete(row, barred)) for row in seen.rows]
    line = entry_line(rows, _mesh_edge_m(seen), cured=is_cured(seen))
    if line is None or line < seen.round.joint_m:
        return None
    return min(line, _HIGHEST_CHAINAGE_M)


def _is_complete(row: Row, barred: set[int]) -> bool:
    return row.is_known and row.ahead is not None and row.number not in barred


def _mesh_edge_is_known(seen: Seen) -> bool:
    taped = seen.round.mesh.to_face is not None
    return bool(face_readings(seen.round)) and (taped or reach_to_face(seen) is not None)


def _mesh_edge_m(seen: Seen) -> Decimal | None:
    """Give the least chainage at which the mesh may end: as it was read, and as sheets lie."""
    if seen.support_class.limits.mesh_reach is None:
        return None
    placed = reach_to_face(seen)
    edges = [_taped_edge_m(seen), None if placed is None else placed.edge_m]
    return min((edge for edge in edges if edge is not None), default=None)


def _taped_edge_m(seen: Seen) -> Decimal | None:
    """Give where the mesh ends by a reading to the face, which was taken at one place.

    Where a ragged face stands nearest, that reading ends the farthest outbye.
    """
    to_face, read = seen.round.mesh.to_face, face_readings(seen.round).values()
    if to_face is None:
        return None
    return seen.rows[-1].chainage_m + min(one.value_m for one in read) - to_face.value_m
