"""Deviations: which findings stand under one that the geotechnical engineer granted."""

from collections import Counter
from collections.abc import Sequence
from datetime import datetime
from typing import Final

from schemas.bodies.deviation import Deviation
from schemas.findings import Finding, Place, Verdict

NEVER: Final = frozenset({"last_row_to_face", "neighbouring_bolts"})
"""Never for the last row to the face, never for two neighbouring bolts."""

_COVERED: Final = (Verdict.FIX_THIS_SHIFT, Verdict.REWORK, Verdict.NO_ENTRY)


def covered(
    findings: Sequence[Finding], deviations: Sequence[Deviation], as_at: datetime
) -> tuple[Finding, ...]:
    """Say which findings stand under a deviation.

    Parameters
    ----------
    findings : sequence of Finding
        As the checks gave them. [-]
    deviations : sequence of Deviation
        Granted for this round. [-]
    as_at : datetime
        The time of the assessment; a deviation that has ended covers nothing. [UTC]

    Returns
    -------
    tuple of Finding
        The same, with the deviation where every place of a finding is covered by one: each for
        one place, never a row of bolts at once. What
        nobody looked at, or is to be measured again, no deviation covers. [-]

    Source
    ------
    Common practice, no source.
    """
    standing = [one for one in deviations if one.ends_at > as_at and one.check not in NEVER]
    return tuple(_under(finding, standing) for finding in findings)


def departs(deviation: Deviation) -> str:
    """Say what departs from the standard, and where.

    Parameters
    ----------
    deviation : Deviation
        A granted one. [-]

    Returns
    -------
    str
        "bolt spacing, row 3, bolt 2". [-]

    Source
    ------
    Common practice, no source.
    """
    return f"{deviation.check.replace('_', ' ')}, {_where(deviation)}"


def covers(deviation: Deviation, named: str) -> bool:
    """Whether a finding stands under a deviation, or a sign-off does.

    Parameters
    ----------
    deviation : Deviation
        A granted one. [-]
    named : str
        What the finding or the sign-off names of the deviations that it stands under. [-]

    Returns
    -------
    bool
        Whether this one is among them. [-]

    Source
    ------
    Common practice, no source.
    """
    return _name(deviation) in named


def _under(finding: Finding, deviations: Sequence[Deviation]) -> Finding:
    if finding.verdict not in _COVERED or not finding.places:
        return finding
    own = [one for one in deviations if one.check == finding.check]
    in_row = Counter(place.row for place in finding.places)
    by_place = [
        next((d for d in own if _is_at(d, place, alone=in_row[place.row] == 1)), None)
        for place in finding.places
    ]
    if any(deviation is None for deviation in by_place):
        return finding
    named = dict.fromkeys(_name(deviation) for deviation in by_place if deviation is not None)
    return finding.model_copy(update={"deviation": "; ".join(named), "holds": Verdict.ACCEPT})


def _is_at(deviation: Deviation, place: Place, *, alone: bool) -> bool:
    """Whether it was granted for this place; one that names a row only, for its one place."""
    if deviation.row is None or place.row != deviation.row:
        return False
    return alone if deviation.position is None else place.position == deviation.position


def _name(deviation: Deviation) -> str:
    ends = f"{deviation.ends_at:%Y-%m-%d %H:%M} UTC"
    return f"{_where(deviation)}, until {ends}: {deviation.reason}"


def _where(deviation: Deviation) -> str:
    bolt = "" if deviation.position is None else f", bolt {deviation.position}"
    return f"row {deviation.row}{bolt}"
