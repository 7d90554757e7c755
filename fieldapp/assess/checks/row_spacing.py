"""Row spacing, along the rock."""

from decimal import Decimal

from fieldapp.assess.judge import Check, Reading, measured
from fieldapp.assess.profile.profile import across_step_m
from fieldapp.assess.seen import Row, Seen
from fieldapp.assess.words import row_name, row_place
from schemas.bodies.round import LengthReading
from schemas.findings import Finding
from schemas.limits import AtMostMetres
from schemas.numbers import STEP_M


def row_spacing(seen: Seen, demanded: AtMostMetres) -> tuple[Finding, ...]:
    """Judge it: every row is measured from the row before, and the widest governs.

    Parameters
    ----------
    seen : Seen
        How far ahead each row is. [m]
    demanded : AtMostMetres
        The bound. [m]

    Returns
    -------
    tuple of Finding
        The widest; where the profile changes before a row, in three dimensions: as far along
        the drive as it was read, and as far out as the rock steps there. [m]

    Source
    ------
    Common practice, no source.
    """
    readings = [_reading(seen, row, row.ahead) for row in seen.rows if row.ahead is not None]
    unseen = [
        row_place(row.number, words=f"how far ahead {row.name} is")
        for row in seen.rows
        if row.ahead is None
    ]
    check = Check("row_spacing", "from the row before", "measured row by row")
    return measured(check, demanded, readings, unseen, STEP_M)


def _reading(seen: Seen, row: Row, ahead: LengthReading) -> Reading:
    value = ahead.value_m
    if row.step_m:
        value = Decimal(repr(across_step_m(float(value), row.step_m)))
    before = row_name(row.number - 1)
    return Reading(
        value=value,
        u=seen.doubt_m(ahead.method, ahead.doubt_m),
        place=lambda: row_place(row.number, float(row.chainage_m), f"{before} to {row.name}"),
        again=ahead.again,
        fix=lambda: f"add a row between {before} and {row.name}",
    )
