"""Figures as people read them on the glass."""

from decimal import Decimal

from fieldapp.report.lengths import Units, metres_words
from fieldapp.report.words import chainage

TENTH_M = Decimal("0.1")


def metres(value_m: Decimal, units: Units) -> str:
    """Say a chainage or a distance in the mine's units: "1 385.8 m", "4 546 ft 7 in"."""
    return f"{chainage(value_m)} m" if units == "metres" else metres_words(value_m, units)


def line(line_m: Decimal, units: Units) -> str:
    """Say an entry line: what is less than a tenth of a metre goes, never beyond the line."""
    return metres(line_m - line_m % TENTH_M, units)


def figure(value_m: Decimal, units: Units) -> str:
    """Say it without its unit where metres stand above the column."""
    return chainage(value_m) if units == "metres" else metres_words(value_m, units)
