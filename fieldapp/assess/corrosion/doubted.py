"""Whether a reading of steel can be right, beside what was read there before."""

from decimal import Decimal
from typing import Final

from fieldapp.assess.corrosion.readings import BEYOND_DOUBT, Thickness
from fieldapp.assess.corrosion.residual import left_after_mm
from fieldapp.assess.statistics.trend import years_between
from schemas.corrosion_rules import Steel
from schemas.numbers import text

HALF: Final = Decimal("0.5")
"""A reading that lost more than this of what was there is asked about. Common practice, no
source: a slip of the pad (1.8 for 18.0) is far below it, rust between two walks above."""


def out_of_reason(
    steel: Steel,
    new_mm: Decimal,
    read: Thickness,
    before: Thickness | None,
    fastest_um_per_year: Decimal | None,
) -> str | None:
    """Say why a reading is asked about before it is believed; None where it may well be.

    Parameters
    ----------
    steel : Steel
        What was read. [-]
    new_mm : Decimal
        Diameter or thickness when it was new. [mm]
    read : Thickness
        As it was read. [mm]
    before : Thickness or None
        What was read last at that place. [mm]
    fastest_um_per_year : Decimal or None
        What a surface loses in the worst air that the standard knows. [µm/year]

    Returns
    -------
    str or None
        "less than half of last time, 18.03 mm": nothing is left, less than half, or more was lost
        since than that air takes and both doubts explain. [-]

    Source
    ------
    Common practice, no source.
    """
    if read.left_mm == 0:
        return "nothing at all"
    if before is None:
        is_half = read.left_mm < HALF * new_mm
        return f"less than half of new, {text(new_mm)} mm" if is_half else None
    if read.left_mm < HALF * before.left_mm:
        return f"less than half of last time, {text(before.left_mm)} mm"
    if fastest_um_per_year is None:
        return None
    years = max(Decimal(0), Decimal(repr(years_between(before.at, read.at))))
    rusted_mm = left_after_mm(steel, before.left_mm, fastest_um_per_year * years)
    if read.left_mm + BEYOND_DOUBT * (read.u_mm + before.u_mm) < rusted_mm:
        return f"thinner than rust explains since last time, {text(before.left_mm)} mm"
    return None
