"""Readings of lengths: value chips around what is likely, and the pad for all others."""

from collections.abc import Callable
from decimal import Decimal
from typing import Final

from fieldapp.work.questions.question import Choice, Digits
from fieldapp.work.touches import AnyTouch
from schemas.bodies.round import LengthReading, Method

TAPED: Final[tuple[Method, ...]] = ("tape", "laser", "staff", "paced")
ALONG_THE_FACE: Final[tuple[Method, ...]] = ("staff", "laser", "tape", "paced")

Taken = Callable[[LengthReading], AnyTouch]


def length_choices(
    values_m: tuple[Decimal, ...], method: Method, taken: Taken, *, straight: bool = False
) -> tuple[Choice, ...]:
    """Give a chip a value."""
    return tuple(
        Choice(
            f"{value}",
            taken(LengthReading(value_m=value, method=method, straight=straight)),
            f"m, {method}",
        )
        for value in values_m
    )


def length_digits(
    limit: str, methods: tuple[Method, ...], taken: Taken, *, straight: bool = False
) -> Digits:
    """Give the pad for one length, read by the first of `methods` unless another is named."""

    def touch(value: Decimal, method: Method) -> AnyTouch:
        return taken(LengthReading(value_m=value, method=method, straight=straight))

    return Digits(
        unit="m",
        limit=limit,
        decimals=2,
        least=Decimal(0),
        most=Decimal(20),
        methods=methods,
        touch=touch,
    )


def around(likely_m: Decimal, step_m: str, below: int, above: int) -> tuple[Decimal, ...]:
    """Give likely values on the grid of `step_m`, so many below and above, none negative."""
    step = Decimal(step_m)
    middle = (likely_m / step).to_integral_value() * step
    values = (middle + step * n for n in range(-below, above + 1))
    return tuple(value.quantize(Decimal("0.01")) for value in values if value > 0)
