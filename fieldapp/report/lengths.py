"""Lengths as they are read: metric, or in feet and inches where the mine's settings say so.

Stored is always SI; only what is shown changes.
"""

from decimal import ROUND_HALF_EVEN, Decimal
from typing import Final, Literal

from schemas.findings import Finding
from schemas.numbers import text

Units = Literal["metres", "feet and inches"]

FOOT_M: Final = Decimal("0.3048")
"""Exactly: NIST SP 811 (2008), appendix B.8."""
INCH_MM: Final = Decimal("25.4")
"""Exactly: NIST SP 811 (2008), appendix B.8."""
INCHES_A_FOOT: Final = 12


def metres_words(value_m: Decimal, units: Units) -> str:
    """Write a length given in metres: "1.89 m", or "6 ft 2 in" to the nearest inch."""
    if units == "metres":
        return f"{text(value_m)} m"
    inches = int((value_m / FOOT_M * INCHES_A_FOOT).to_integral_value(ROUND_HALF_EVEN))
    feet, rest = divmod(inches, INCHES_A_FOOT)
    return f"{feet} ft {rest} in" if feet else f"{rest} in"


def millimetres_words(value_mm: Decimal, units: Units) -> str:
    """Write a length given in millimetres: "300 mm", or "11.8 in" to a tenth of an inch."""
    if units == "metres":
        return f"{text(value_mm)} mm"
    inches = (value_mm / INCH_MM).quantize(Decimal("0.1"), rounding=ROUND_HALF_EVEN)
    return f"{text(inches)} in"


def measured_words(finding: Finding, units: Units) -> str:
    """Give a finding's measured value with its unit; empty where nothing is measured."""
    return _words(finding.measured, finding.unit, units) if finding.measured else ""


def limit_words(finding: Finding, units: Units) -> str:
    """Give a finding's limit as it is shown beside the measured value."""
    if not finding.limit or units == "metres":
        return finding.limit or ""
    words = finding.limit.split()
    converted = [_words(word, finding.unit, units) if _is_number(word) else word for word in words]
    return " ".join(converted)


def _words(number: str, unit: str, units: Units) -> str:
    if unit == "m" and _is_number(number):
        return metres_words(Decimal(number), units)
    if unit == "mm" and _is_number(number):
        return millimetres_words(Decimal(number), units)
    return f"{number} {unit}".strip()


def _is_number(word: str) -> bool:
    return word.replace(".", "", 1).isdigit()
