"""Figures as people read them on the glass."""

from decimal import Decimal

from fieldapp.report.words.findings import chainage
from fieldapp.report.words.lengths import Units, chainage_words, line_words


def metres(value_m: Decimal, units: Units) -> str:
    """Say a chainage or a distance in the mine's units: "1 385.8 m", "4 546 ft 7 in"."""
    return chainage_words(value_m, units)


def line(line_m: Decimal, units: Units) -> str:
    """Say an entry line, never beyond where it is."""
    return line_words(line_m, units)


def figure(value_m: Decimal, units: Units) -> str:
    """Say it without its unit where metres stand above the column."""
    return chainage(value_m) if units == "metres" else chainage_words(value_m, units)
