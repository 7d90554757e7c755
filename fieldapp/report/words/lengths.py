"""Lengths as they are read: metric, or in feet and inches where the mine's settings say so.

Stored is always SI; only what is shown changes. Whatever is put into words in metres first is
turned over here, so that no sentence has to be written twice.
"""

import re
from collections.abc import Callable
from decimal import ROUND_FLOOR, ROUND_HALF_EVEN, Decimal
from typing import Final, Literal

from fieldapp.report.words.findings import NO_BREAK, chainage
from schemas.findings import Assessment, Finding
from schemas.numbers import SAID_M, text

Units = Literal["metres", "feet and inches"]
FEET: Final = "feet and inches"

INCH_MM: Final = Decimal("25.4")
"""Exactly: NIST SP 811 (2008), appendix B.8."""
INCHES_A_FOOT: Final = 12
FOOT_M: Final = INCH_MM * INCHES_A_FOOT / 1000
WHOLE: Final = Decimal(1)
TENTH: Final = SAID_M
HUNDREDTH: Final = Decimal("0.01")
SMALL_MM: Final = 100
"""Wires, plate gaps and slips: a tenth of an inch is too much of them."""

_ONE: Final = rf"\d{{1,3}}(?:{NO_BREAK}\d{{3}})+(?:\.\d+)?|\d+(?:\.\d+)?"
_LENGTH: Final = re.compile(
    rf"(?<![\w.])(?P<first>{_ONE})"
    rf"(?:(?P<between> ± | to | × |–)(?P<second>{_ONE}))?[ {NO_BREAK}](?P<unit>m|mm)\b"
)


def metres_words(value_m: Decimal, units: Units) -> str:
    """Write a length given in metres: "1.89 m", or "6 ft 2 in" to the nearest inch."""
    return f"{text(value_m)} m" if units == "metres" else _feet(value_m * 1000, WHOLE)


def chainage_words(value_m: Decimal, units: Units) -> str:
    """Write a chainage: "1 386.4 m", or "4 548 ft 7 in"."""
    return f"{chainage(value_m)} m" if units == "metres" else metres_words(value_m, units)


def span_words(from_m: Decimal, to_m: Decimal, units: Units, between: str) -> str:
    """Write two chainages: "1 386.4 to 1 390.2 m", "4 548 ft 7 in – 4 561 ft 0 in"."""
    first, last = chainage_words(from_m, units), chainage_words(to_m, units)
    return f"{first.removesuffix(' m')}{between}{last}"


def line_words(line_m: Decimal, units: Units) -> str:
    """Write an entry line, never beyond where it is: what is less than a tenth or an inch goes."""
    if units == "metres":
        return chainage_words(outbye_tenth(line_m), units)
    return _feet(line_m * 1000, WHOLE, ROUND_FLOOR)


def outbye_tenth(line_m: Decimal) -> Decimal:
    """Give an entry line in whole tenths of a metre, as it is said and drawn."""
    return line_m - line_m % TENTH


def tick_words(value_m: Decimal, units: Units) -> str:
    """Write a chainage in the narrow margin of a picture: "1 386.4", or "4 548′ 7″".

    It is the number by which the same place goes everywhere else; the entry line says its own.
    """
    return chainage(value_m) if units == "metres" else _signs(value_m, ROUND_HALF_EVEN)


def line_tick_words(line_m: Decimal, units: Units) -> str:
    """Write an entry line as shortly, never beyond where it is."""
    if units == "metres":
        return chainage(outbye_tenth(line_m))
    return _signs(line_m, ROUND_FLOOR)


def _signs(value_m: Decimal, rounding: str) -> str:
    feet, inches = _split(value_m * 1000, WHOLE, rounding)
    return f"{_thousands(feet)}′{NO_BREAK}{text(inches)}″"


def in_units(words: str, units: Units) -> str:
    """Turn over every metric length in words: "2.8 m right of the crown", "10–20 mm".

    A length said to the tenth of a metre comes to the inch, one said more finely to a tenth.
    """
    return words if units == "metres" else _LENGTH.sub(_turned, words)


def places_in_units(words: str, units: Units) -> str:
    """Turn words over as `in_units` does; in metres, give places the form of `chainage_words`.

    "1386.6 m" comes to "1 386.6 m".
    """
    return _LENGTH.sub(_spaced, words) if units == "metres" else in_units(words, units)


def limits_in_units(words: str, units: Units) -> str:
    """Turn over every metric length of a demand, to a tenth of an inch, small ones to a hundredth.

    A limit of 0.8 m is 31.5 inches, never 31 or 32: somebody measures against it.
    """
    return words if units == "metres" else _LENGTH.sub(_turned_finely, words)


def measured_words(finding: Finding, units: Units) -> str:
    """Give a finding's measured value with its unit; empty where nothing is measured."""
    if finding.is_for_engineers:
        return ""
    told = finding_in(finding, units)
    return f"{told.measured} {told.unit}".strip() if told.measured else ""


def limit_words(finding: Finding, units: Units) -> str:
    """Give a finding's limit as it is shown beside the measured value."""
    return "" if finding.is_for_engineers else finding_in(finding, units).limit or ""


def finding_in(finding: Finding, units: Units) -> Finding:
    """Give a finding whose words are in the mine's units; a length carries its own unit then."""
    if units == "metres":
        return finding
    told: dict[str, object] = {
        "places": tuple(
            place.model_copy(update={"words": in_units(place.words, units)})
            for place in finding.places
        ),
        "how": in_units(finding.how, units),
        "fix": tuple(in_units(job, units) for job in finding.fix),
    }
    if finding.unit in ("m", "mm"):
        told |= _figures(finding)
    return finding.model_copy(update=told)


def assessment_in(assessment: Assessment, units: Units) -> Assessment:
    """Give an assessment to print or show in the mine's units; it is no longer what was hashed."""
    if units == "metres":
        return assessment
    return assessment.model_copy(
        update={
            "findings": tuple(finding_in(finding, units) for finding in assessment.findings),
            "fix_list": tuple(in_units(job, units) for job in assessment.fix_list),
        }
    )


def _figures(finding: Finding) -> dict[str, str | None]:
    """Turn over reading and limit, finely enough that a breach never looks like none."""
    tenths = _to(TENTH, finding)
    limit, measured = tenths["limit"] or "", tenths["measured"] or ""
    return _to(HUNDREDTH, finding) if limit.endswith(f" {measured}") else tenths


def _to(step: Decimal, finding: Finding) -> dict[str, str | None]:
    return {
        "measured": _each_number(finding.measured, finding.unit, step),
        "uncertainty": _each_number(finding.uncertainty, finding.unit, step),
        "limit": _each_number(finding.limit, finding.unit, step),
        "unit": "",
    }


def _each_number(words: str | None, unit: str, step: Decimal) -> str | None:
    if words is None:
        return None
    parts = (
        _length(Decimal(word), unit, step) if _is_number(word) else word for word in words.split()
    )
    return " ".join(parts)


def _spaced(found: re.Match[str]) -> str:
    numbers = [found[part] for part in ("first", "second") if found[part]]
    spaced = [f"{Decimal(it.replace(NO_BREAK, '')):,}".replace(",", NO_BREAK) for it in numbers]
    return f"{(found['between'] or '').join(spaced)} {found['unit']}"


def _turned(found: re.Match[str]) -> str:
    return _each_turned(found, _step)


def _turned_finely(found: re.Match[str]) -> str:
    return _each_turned(found, _fine_step)


def _each_turned(found: re.Match[str], step: Callable[[str, str], Decimal]) -> str:
    parts = [_said(found["first"], found["unit"], step)]
    if found["between"]:
        parts += [found["between"], _said(found["second"], found["unit"], step)]
    return "".join(parts)


def _said(number: str, unit: str, step: Callable[[str, str], Decimal]) -> str:
    plain = number.replace(NO_BREAK, "")
    return _length(Decimal(plain), unit, step(plain, unit))


def _fine_step(number: str, unit: str) -> Decimal:
    return HUNDREDTH if unit == "mm" and Decimal(number) < SMALL_MM else TENTH


def _step(number: str, unit: str) -> Decimal:
    """Give the step that fits how finely a length was said."""
    decimals = len(number.partition(".")[2])
    return WHOLE if unit == "m" and decimals < len("00") else TENTH


def _length(value: Decimal, unit: str, step: Decimal) -> str:
    return _feet(value * 1000, step) if unit == "m" else _inches(value, step)


def _feet(value_mm: Decimal, step: Decimal, rounding: str = ROUND_HALF_EVEN) -> str:
    feet, inches = _split(value_mm, step, rounding)
    rest = f"{text(inches)}{NO_BREAK}in"
    return f"{_thousands(feet)}{NO_BREAK}ft{NO_BREAK}{rest}" if feet else rest


def _split(
    value_mm: Decimal, step: Decimal, rounding: str = ROUND_HALF_EVEN
) -> tuple[int, Decimal]:
    inches = (value_mm / INCH_MM).quantize(step, rounding=rounding)
    feet, rest = divmod(inches, INCHES_A_FOOT)
    return int(feet), rest.quantize(step)


def _inches(value_mm: Decimal, step: Decimal) -> str:
    inches = (value_mm / INCH_MM).quantize(step, rounding=ROUND_HALF_EVEN)
    return f"{text(inches)}{NO_BREAK}in"


def _thousands(feet: int) -> str:
    return f"{feet:,}".replace(",", NO_BREAK)


def _is_number(word: str) -> bool:
    return word.replace(".", "", 1).isdigit()
