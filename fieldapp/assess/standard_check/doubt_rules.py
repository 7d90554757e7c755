"""Whether the stated uncertainties let a perfect round pass at all."""

import math
from collections.abc import Iterator
from decimal import Decimal
from typing import Final

from fieldapp.assess.gaps.of_pattern import intact_gap_m
from fieldapp.assess.standard_check.faults import (
    Caution,
    Fault,
    Refusal,
    StandardRule,
    metres,
)
from fieldapp.assess.standard_check.shape_rules import is_a_pattern, spacing_in_row_m
from schemas.limits import Measured
from schemas.numbers import STEP_M, rounded
from schemas.standard import Standard, SupportClass

_METHODS: Final = ("tape_m", "staff_m", "laser_m", "paced_m", "photo_m", "assumed_m")


def _methods(standard: Standard) -> Iterator[Fault]:
    for name in _METHODS:
        if getattr(standard.measuring, name) == 0:
            yield Refusal(f"$.measuring.{name}", "no reading is without uncertainty")


def _as_standard_passes(standard: Standard) -> Iterator[Fault]:
    """Judge a perfect round whose rows were answered "as standard", their places assumed.

    A gap is held by two bolts whose places are equally unsure.
    """
    assumed_m = standard.measuring.assumed_m
    between_two_m = assumed_m * Decimal(math.sqrt(2))
    for index, support_class, spacing_m in _patterns(standard):
        limits = support_class.limits
        lowest_m = support_class.profile.supported_from_m
        for name, value_m, limit, u_m in (
            ("largest_gap", _gap_m(support_class, spacing_m), limits.largest_gap, between_two_m),
            ("lowest_bolt", lowest_m, limits.lowest_bolt, assumed_m),
        ):
            if _straddles(value_m, limit, u_m):
                reason = _straddling(value_m, limit.guard_factor * u_m)
                yield Caution(f"$.classes[{index}].limits.{name}", reason)


def _taped_passes(standard: Standard) -> Iterator[Fault]:
    for index, support_class, spacing_m in _patterns(standard):
        limits = support_class.limits
        rows_m = support_class.pattern.row_spacing_m
        for name, things, value_m, limit in (
            ("bolt_spacing", "bolts", spacing_m, limits.bolt_spacing),
            ("row_spacing", "rows", rows_m, limits.row_spacing),
        ):
            if _straddles(value_m, limit, standard.measuring.tape_m):
                reason = f"{things} taped {metres(value_m)} apart would have to be taped again"
                yield Caution(f"$.classes[{index}].limits.{name}", reason)


def _patterns(standard: Standard) -> Iterator[tuple[int, SupportClass, Decimal]]:
    for index, support_class in enumerate(standard.classes):
        spacing_m = spacing_in_row_m(support_class)
        if spacing_m is not None and is_a_pattern(support_class):
            yield index, support_class, spacing_m


def _straddles(value_m: Decimal, limit: Measured, u_m: Decimal) -> bool:
    return value_m <= limit.bound < value_m + limit.guard_factor * u_m


def _straddling(value_m: Decimal, guard_m: Decimal) -> str:
    return (
        f"in a perfect round answered “as standard” it is {metres(value_m)} ± {metres(guard_m)},"
        " which reaches past this limit: every row would have to be taped"
    )


def _gap_m(support_class: SupportClass, spacing_m: Decimal) -> Decimal:
    pattern = support_class.pattern
    gap_m = intact_gap_m(
        float(spacing_m), float(pattern.row_spacing_m), staggered=pattern.kind == "staggered"
    )
    return rounded(gap_m, STEP_M)


RULES: Final[tuple[StandardRule, ...]] = (_methods, _as_standard_passes, _taped_passes)
