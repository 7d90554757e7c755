"""Whether damage can be put in an order: the card, the exposures, the priorities, their table."""

from collections.abc import Iterator, Sequence
from typing import Final, get_args

from fieldapp.assess.standard_check.faults import Caution, Fault, Refusal, StandardRule
from schemas.rehab_rules import Holds, MatrixCell
from schemas.standard import Standard

_STRICTEST_FIRST: Final[tuple[Holds, ...]] = get_args(Holds)


def _codes(standard: Standard) -> Iterator[Fault]:
    for name in ("severities", "exposures", "priorities"):
        codes = [step.code for step in getattr(standard, name)]
        for index, code in enumerate(codes):
            if code in codes[:index]:
                yield Refusal(f"$.{name}[{index}].code", f"{code} stands there twice")
        if not codes:
            yield Caution(f"$.{name}", "none is named, so damage can't be put in an order")


def _days(standard: Standard) -> Iterator[Fault]:
    days = [priority.due_days for priority in standard.priorities]
    if days != sorted(days):
        reason = "a lower priority is due sooner than a higher one"
        yield Caution("$.priorities", f"{reason}: {', '.join(map(str, days))} days")


def _entry(standard: Standard) -> Iterator[Fault]:
    """Refuse a table whose priorities don't say what entry is, or say it the wrong way round."""
    gravest = 0
    for index, priority in enumerate(standard.priorities if standard.rehab_matrix else ()):
        path = f"$.priorities[{index}].holds"
        if priority.holds is None:
            yield Refusal(path, f"nothing says what entry is beneath damage of {priority.code}")
            continue
        strictness = _STRICTEST_FIRST.index(priority.holds)
        if strictness < gravest:
            reason = f"{priority.code} is less urgent and would hold entry more strictly"
            yield Refusal(path, f"{reason}: “{priority.holds}”")
        gravest = max(gravest, strictness)


def _known_codes(standard: Standard) -> Iterator[Fault]:
    listed = (
        ("severity", "severities"),
        ("exposure", "exposures"),
        ("priority", "priorities"),
    )
    for index, cell in enumerate(standard.rehab_matrix):
        for field, name in listed:
            code = getattr(cell, field)
            if code not in [step.code for step in getattr(standard, name)]:
                reason = f"{code or 'nothing'} is none of the standard's {name}"
                yield Refusal(f"$.rehab_matrix[{index}].{field}", reason)


def _holes(standard: Standard) -> Iterator[Fault]:
    if not standard.rehab_matrix:
        reason = "there is no table, so an engineer decides on each damage by itself"
        yield Caution("$.rehab_matrix", reason)
        return
    places = [(cell.severity, cell.exposure) for cell in standard.rehab_matrix]
    for index, place in enumerate(places):
        if place in places[:index]:
            reason = f"{place[0]} under {place[1]} stands there twice"
            yield Refusal(f"$.rehab_matrix[{index}]", reason)
    for severity in standard.severities:
        for exposure in standard.exposures:
            if (severity.code, exposure.code) not in places:
                reason = f"nothing stands for {severity.code} under {exposure.code}"
                yield Refusal("$.rehab_matrix", reason)


def _graver_is_no_milder(standard: Standard) -> Iterator[Fault]:
    severities = [step.code for step in standard.severities]
    priorities = [step.code for step in standard.priorities]
    by_severity = sorted(
        (severities.index(cell.severity), index, cell)
        for index, cell in enumerate(standard.rehab_matrix)
        if cell.severity in severities and cell.priority in priorities
    )
    graver: list[MatrixCell] = []
    for _, index, cell in by_severity:
        milder = _more_urgent(graver, cell, priorities)
        if milder is not None:
            reason = f"{cell.severity} is graver than {milder.severity}, and {cell.priority} is"
            reason += f" less urgent than its {milder.priority}"
            yield Refusal(f"$.rehab_matrix[{index}].priority", reason)
        graver.append(cell)


def _more_urgent(
    milder: Sequence[MatrixCell], cell: MatrixCell, priorities: Sequence[str]
) -> MatrixCell | None:
    """Give a milder severity of the same exposure that is repaired sooner."""
    same = (it for it in milder if it.exposure == cell.exposure)
    rank = priorities.index(cell.priority)
    return next((it for it in same if priorities.index(it.priority) < rank), None)


RULES: Final[tuple[StandardRule, ...]] = (
    _codes,
    _days,
    _entry,
    _known_codes,
    _holes,
    _graver_is_no_milder,
)
