"""What a revision of a round comes to by a standard, as lines for reports.

Values in, values out: other processes do it as well.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Final

from fieldapp.assess import assess
from fieldapp.assess.bolts_seen import Bolt
from fieldapp.assess.demanded import UnknownSupportClass
from fieldapp.assess.laps import lap_mm
from fieldapp.assess.mesh.lapped import laps_of, method_of
from fieldapp.assess.seen import Row, Seen, seen_in
from fieldapp.store.office.line import Line
from fieldapp.store.office.lines import BoltLine, FindingLine, JudgementLine, LapLine
from fieldapp.store.office.projected import Judged
from fieldapp.work.office_lines.utc import utc_text
from fieldapp.work.office_lines.worked import work_lines
from fieldapp.work.sign import assessment_hash
from schemas.bodies.round import LapSeen, SheetLap
from schemas.bundle import Bundle
from schemas.findings import Assessment, Finding

_PLACES: Final = ("chainage_m", "rows_complete_to_m")


@dataclass(frozen=True)
class ByStandard:
    """A standard that a round is judged by, with everything else that judging needs."""

    revision: str
    bundle: Bundle
    shown: bool
    in_force: bool


@dataclass(frozen=True)
class ToJudge:
    """A revision of a round, and the standards that it is judged by."""

    round_revision: str
    judged_by: str
    """A hash of everything that the judgements follow from."""
    by: tuple[ByStandard, ...]
    moved_m: Decimal = Decimal(0)
    """Since it was stated its chainages were measured anew, and it lies so much farther inbye."""


def judged(task: ToJudge) -> Judged:
    """Judge a round by each of the standards; one without its support class says nothing."""
    lines: list[Line] = []
    seen: Seen | None = None
    for by in task.by:
        try:
            assessment = assess(by.bundle)
        except UnknownSupportClass:
            continue
        lines += _judgement(task.round_revision, by, assessment)
        seen = seen or seen_in(by.bundle)
        if by.shown:
            lines += work_lines(task.round_revision, by.bundle)
    if seen is not None:
        lines += _bolts(task.round_revision, seen)
        lines += _laps(task.round_revision, seen)
    moved = tuple(_moved(it, float(task.moved_m)) for it in lines)
    return Judged(task.round_revision, task.judged_by, moved)


def _moved(line: Line, by_m: float) -> Line:
    """Give a line with its places where they are today."""
    said = {name: getattr(line, name, None) for name in _PLACES}
    today = {name: round(it + by_m, 3) for name, it in said.items() if it is not None}
    return replace(line, **today) if by_m and today else line


def _judgement(revision: str, by: ByStandard, found: Assessment) -> Iterator[Line]:
    line_m = found.rows_complete_to_m
    yield JudgementLine(
        round_revision=revision,
        standard_revision=by.revision,
        standard=by.bundle.standard.name,
        shown=by.shown,
        in_force=by.in_force,
        as_at=utc_text(found.as_at),
        method_version=found.method_version,
        verdict=found.verdict,
        held_at=found.held_at,
        headline=found.headline,
        may_be_accepted=found.may_be_accepted,
        rows_complete_to_m=None if line_m is None else float(line_m),
        assessment=assessment_hash(found),
    )
    for place, finding in enumerate(found.findings, start=1):
        yield _finding(revision, by.revision, place, finding)


def _finding(revision: str, standard: str, list_place: int, it: Finding) -> FindingLine:
    place = it.places[0] if it.places else None
    return FindingLine(
        round_revision=revision,
        standard_revision=standard,
        list_place=list_place,
        check_name=it.check,
        title=it.title,
        verdict=it.verdict,
        holds=it.holds,
        measured=it.measured,
        measured_value=_number(it.measured),
        uncertainty=_number(it.uncertainty),
        limit_text=it.limit,
        limit_value=_number(it.limit.rpartition(" ")[2]) if it.limit else None,
        unit=it.unit,
        place=place.words if place else None,
        chainage_m=_float(place.chainage_m) if place else None,
        s_m=_float(place.s_m) if place else None,
        bolt_row=place.row if place else None,
        bolt_position=place.position if place else None,
        zone=place.zone if place else None,
        places=len(it.places),
        because=it.because,
        how=it.how,
        basis=it.basis,
        fix="; ".join(it.fix),
        deviation=it.deviation,
    )


def _bolts(revision: str, seen: Seen) -> Iterator[BoltLine]:
    for row in seen.rows:
        for bolt in row.all_bolts:
            yield _bolt(revision, row, bolt)


def _bolt(revision: str, row: Row, it: Bolt) -> BoltLine:
    state = _state(row, it)
    there = state == "present"
    return BoltLine(
        round_revision=revision,
        bolt_row=row.number,
        bolt_position=it.position,
        chainage_m=round(it.chainage_m, 3),
        s_m=round(it.s_m, 3),
        zone=it.zone,
        looked_at=it.looked_at,
        state=state,
        faults=", ".join(it.faults) if it.is_there else "",
        counts=there and it.counts,
        plate_seated=it.seated if there else None,
        plated=there and it.plated,
        anchored=there and it.anchored,
        method=it.method,
    )


def _state(row: Row, it: Bolt) -> str:
    """Say whether a bolt is there.

    Where fewer plates were counted than are demanded and nobody said which are missing, it may
    be any that was not marked.
    """
    if not it.looked_at:
        return "not looked at"
    if not it.is_there:
        return it.faults[0]
    return "not sure" if row.bolts.unplaced and it.mark is None else "present"


def _laps(revision: str, seen: Seen) -> Iterator[LapLine]:
    for lap in seen.round.laps:
        yield replace(
            _lap(revision, seen, lap), lap=lap.number, width_mm=_float(_width_mm(seen, lap))
        )
    for placed in laps_of(seen):
        read = next(iter(placed.read), SheetLap(with_sheet=0))
        between_mm = None if placed.width_m is None else placed.width_m * 1000
        width_mm = min((w for it in placed.read if (w := _width_mm(seen, it))), default=between_mm)
        yield replace(
            _lap(revision, seen, read),
            lap=placed.number,
            sheets=placed.words.partition(",")[0],
            width_mm=_float(width_mm),
            method=method_of(seen, placed),
        )


def _lap(revision: str, seen: Seen, lap: LapSeen | SheetLap) -> LapLine:
    """Give what was read of a lap beside what is demanded of it."""
    demanded = seen.support_class.limits.mesh_lap
    return LapLine(
        round_revision=revision,
        lap=None,
        sheets=None,
        openings=lap.openings,
        least_mm=_float(lap.least_mm),
        width_mm=None,
        demanded_openings=demanded.at_least_openings if demanded else None,
        demanded_mm=_float(demanded.at_least_mm) if demanded else None,
        method=lap.method,
        held=lap.held,
        not_held_where=lap.not_held_where,
    )


def _width_mm(seen: Seen, lap: LapSeen | SheetLap) -> Decimal | None:
    mesh = seen.support_class.mesh
    counted = None
    if lap.openings is not None and mesh is not None:
        counted = lap_mm(lap.openings, mesh.pitch_mm)
    known = [it for it in (counted, lap.least_mm) if it is not None]
    return min(known, default=None)


def _float(value: Decimal | None) -> float | None:
    return None if value is None else float(value)


def _number(said: str | None) -> float | None:
    """Give a figure that was written out; "36 of 36" is none."""
    try:
        return None if said is None else float(said)
    except ValueError:
        return None
