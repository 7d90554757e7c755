"""Measured values: decimal strings on paper, `Decimal` in hand, rounded once.

A field's name carries the unit, its type carries the step. A binary float is refused: what
was read off a tape has a last digit, and float noise must never rework a perfect round.
"""

import re
from decimal import ROUND_HALF_EVEN, Decimal
from typing import Annotated, Final

from pydantic import BeforeValidator, Field, PlainSerializer, WithJsonSchema

_UNSIGNED: Final = r"(0|[1-9][0-9]{0,6})(\.[0-9]{1,6})?$"
_PATTERN: Final = "^-?" + _UNSIGNED

STEP_M: Final = Decimal("0.001")
STEP_MM: Final = Decimal("1")
STEP_M2: Final = Decimal("0.01")
STEP_M3: Final = Decimal("0.1")
STEP_PER_M2: Final = Decimal("0.001")
STEP_DEG: Final = Decimal("1")
STEP_NM: Final = Decimal("1")
STEP_KN: Final = Decimal("0.1")
STEP_KPA: Final = Decimal("0.1")
STEP_MPA: Final = Decimal("0.1")
STEP_SHARE: Final = Decimal("0.0001")
STEP_FACTOR: Final = Decimal("0.01")
STEP_KJ_PER_M2: Final = Decimal("0.1")
STEP_H: Final = Decimal("0.1")
STEP_MONEY: Final = Decimal("0.01")
SAID_M: Final = Decimal("0.1")
"""To what a chainage is said: a place half-even, an entry line down."""


def rounded(value: float | Decimal, step: Decimal) -> Decimal:
    """Round a result once, half-even, to its quantity's stated step.

    Raises
    ------
    ValueError
        The value is not finite: a bug of the caller.
    """
    number = value if isinstance(value, Decimal) else Decimal(repr(float(value)))
    if not number.is_finite():
        raise ValueError(f"{value} can't be written down")
    return number.quantize(step, rounding=ROUND_HALF_EVEN) + 0  # + 0 turns -0 into 0


def said_m(chainage_m: Decimal) -> str:
    """Write a chainage as it is said, half-even to the tenth: 1386.64 → "1386.6"."""
    return text(rounded(chainage_m, SAID_M))


def text(value: Decimal) -> str:
    """Write a value plainly: no exponent, its own number of digits."""
    return format(value, "f")


def _read(value: object) -> Decimal:
    if isinstance(value, Decimal) and value.is_finite():
        return value
    if isinstance(value, str) and re.match(_PATTERN, value):
        return Decimal(value)
    raise ValueError('a measured value is a plain decimal in quotes, such as "1.25"')


_read_and_written = (BeforeValidator(_read), PlainSerializer(text, return_type=str))
_decimal_text = (
    *_read_and_written,
    WithJsonSchema({"type": "string", "pattern": "^" + _UNSIGNED}),
)
_signed_text = (*_read_and_written, WithJsonSchema({"type": "string", "pattern": _PATTERN}))

Metres = Annotated[Decimal, Field(ge=0, le=100), *_decimal_text]
IN_THE_HEADING: Final = "a place in the heading"
"""Marks the type of a chainage: where a heading's chainages are measured anew, these move."""
Chainage = Annotated[Decimal, Field(ge=0, le=99_999), *_decimal_text, IN_THE_HEADING]
Offset = Annotated[Decimal, Field(ge=-60, le=60), *_signed_text]
Millimetres = Annotated[Decimal, Field(ge=0, le=20_000), *_decimal_text]
Pixels = Annotated[Decimal, Field(ge=0, le=50_000), *_decimal_text]
Share = Annotated[Decimal, Field(ge=0, le=1), *_decimal_text]
Degrees = Annotated[Decimal, Field(ge=0, le=90), *_decimal_text]
NewtonMetres = Annotated[Decimal, Field(ge=0, le=5_000), *_decimal_text]
Kilonewtons = Annotated[Decimal, Field(ge=0, le=5_000), *_decimal_text]
KilonewtonsPerMetre = Annotated[Decimal, Field(ge=0, le=5_000), *_decimal_text]
KilonewtonsPerCubicMetre = Annotated[Decimal, Field(ge=0, le=100), *_decimal_text]
Kilopascals = Annotated[Decimal, Field(ge=0, le=5_000), *_decimal_text]
Megapascals = Annotated[Decimal, Field(ge=0, le=2_500), *_decimal_text]
Kilojoules = Annotated[Decimal, Field(ge=0, le=1_000), *_decimal_text]
KilojoulesPerSquareMetre = Annotated[Decimal, Field(ge=0, le=1_000), *_decimal_text]
KilogramsPerCubicMetre = Annotated[Decimal, Field(ge=0, le=10_000), *_decimal_text]
MetresPerSecond = Annotated[Decimal, Field(ge=0, le=100), *_decimal_text]
Rating = Annotated[Decimal, Field(ge=0, le=1_000), *_decimal_text]
"""A rating of rock: a number without a unit."""
SquareMillimetres = Annotated[Decimal, Field(gt=0, le=20_000), *_decimal_text]
SquareMetres = Annotated[Decimal, Field(ge=0, le=10_000), *_decimal_text]
CubicMetres = Annotated[Decimal, Field(ge=0, le=100_000), *_decimal_text]
PerSquareMetre = Annotated[Decimal, Field(ge=0, le=20), *_decimal_text]
Tonnes = Annotated[Decimal, Field(ge=0, le=10_000), *_decimal_text]
Seconds = Annotated[Decimal, Field(ge=0, le=999_999), *_decimal_text]
Micrometres = Annotated[Decimal, Field(ge=0, le=2_000), *_decimal_text]
MicrometresPerYear = Annotated[Decimal, Field(ge=0, le=5_000), *_decimal_text]
Hours = Annotated[Decimal, Field(ge=0, le=9_999), *_decimal_text]
Money = Annotated[Decimal, Field(ge=0, le=9_999_999), *_decimal_text]
Coordinate = Annotated[Decimal, Field(ge=-9_999_999, le=9_999_999), *_signed_text]
"""East, north or height in the mine's own grid, in metres."""
Factor = Annotated[Decimal, Field(ge=0, le=10), *_decimal_text]
