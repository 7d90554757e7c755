"""Readings of lengths and counts: chips around what is likely, and the pad for all others."""

from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from fieldapp.work.questions.question import Choice, Digits, OnPhoto
from fieldapp.work.touches import AnyTouch
from schemas.bodies.round import LengthReading, Method
from schemas.numbers import STEP_M, rounded
from schemas.taps import What

TAPED: Final[tuple[Method, ...]] = ("tape", "laser", "staff", "paced")
ALONG_THE_FACE: Final[tuple[Method, ...]] = ("staff", "laser", "tape", "paced")

Taken = Callable[[LengthReading], AnyTouch]


@dataclass(frozen=True)
class LengthAsked:
    """How a length is asked for: what is likely, its limit, the ways of reading it."""

    likely_m: tuple[Decimal, ...]
    limit: str
    methods: tuple[Method, ...]
    taken: Taken
    straight: bool = False
    again: bool = False
    """Asked once more: only the pad, so that the new reading names its method and digits."""
    on_photo: What | None = None
    """What of a photo answers it; None where none does."""

    def choices(self) -> tuple[Choice, ...]:
        """Give a chip a value, read by the first method."""
        if self.again:
            return ()
        method = self.methods[0]
        return tuple(
            Choice(f"{value}", self._touch(value, method), f"m, {method}")
            for value in self.likely_m
        )

    def digits(self) -> Digits:
        """Give the pad for all other values and methods."""
        return Digits(
            unit="m",
            limit=self.limit,
            decimals=3 if self.again else 2,
            least=Decimal(0),
            most=Decimal(20),
            methods=self.methods,
            touch=self._touch,
            on_photo=self._on_photo(),
        )

    def is_answered_by(self, reading: LengthReading | None) -> bool:
        """Whether a standing reading answers this question."""
        return reading is not None and (reading.again or not self.again)

    def _on_photo(self) -> OnPhoto | None:
        """Give the way by a photo; it never settles a reading that straddled its limit."""
        if self.on_photo is None or self.again:
            return None

        def touch(value_mm: Decimal, doubt_mm: Decimal) -> AnyTouch:
            value_m, doubt_m = (rounded(it / 1000, STEP_M) for it in (value_mm, doubt_mm))
            return self.taken(
                LengthReading(
                    value_m=value_m, method="photo", straight=self.straight, doubt_m=doubt_m
                )
            )

        return OnPhoto(self.on_photo, touch)

    def _touch(self, value: Decimal, method: Method) -> AnyTouch:
        reading = LengthReading(
            value_m=value, method=method, straight=self.straight, again=self.again
        )
        return self.taken(reading)


def around(likely_m: Decimal, step_m: str, below: int, above: int) -> tuple[Decimal, ...]:
    """Give likely values on the grid of `step_m`, so many below and above, none negative."""
    step = Decimal(step_m)
    middle = (likely_m / step).to_integral_value() * step
    values = (middle + step * n for n in range(-below, above + 1))
    return tuple(value.quantize(Decimal("0.01")) for value in values if value > 0)


def counting(counted: Callable[[int], AnyTouch], *, unit: str, limit: str, most: int) -> Digits:
    """Give the pad for a count."""

    def touch(value: Decimal, _method: Method) -> AnyTouch:
        return counted(int(value))

    return Digits(unit, limit, 0, Decimal(0), Decimal(most), (), touch)
