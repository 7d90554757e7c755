"""Whether the gap limits see what they are there to see.

A rework limit below the pattern at full tolerance reworks good rounds; one at or above the
gap with a bolt missing is blind to a missing bolt.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal
from typing import Final

from fieldapp.assess.gaps.of_pattern import intact_gap_m, one_missing_gap_m
from fieldapp.assess.standard_check.faults import Caution, ClassRule, Fault, Refusal, metres
from fieldapp.assess.standard_check.shape_rules import is_a_pattern, spacing_in_row_m
from schemas.numbers import STEP_M, rounded
from schemas.standard import Pattern, SupportClass

_LEAST_ALLOWANCE_M: Final = Decimal("0.1")
_ABOVE_ONE_MISSING_M: Final = Decimal("0.15")
_STATED_TO: Final = Decimal("0.01")
_FLOAT_NOISE: Final = Decimal("0.000001")
_PATH: Final = ".limits.largest_gap"


@dataclass(frozen=True)
class GapLimits:
    """Two gap limits that fit a pattern. [m]."""

    rework_above_m: Decimal
    no_entry_above_m: Decimal


def proposed_gap_limits(support_class: SupportClass) -> GapLimits:
    """Propose gap limits for the pattern of a class.

    Parameters
    ----------
    support_class : SupportClass
        The class; its own gap limits are not looked at. [m]

    Returns
    -------
    GapLimits
        Rework: the pattern with every spacing 0.1 m wider, or wider by its tolerance where
        that is more, stated up to the centimetre. No entry: the gap with one bolt missing
        plus 0.15 m, stated down to the centimetre. [m]

    Source
    ------
    Proposal of this program, no source; closed forms in `pattern_gaps`.
    """
    pattern = support_class.pattern
    wide = rounded(_at_full_tolerance_m(pattern, _LEAST_ALLOWANCE_M), _FLOAT_NOISE)
    missing = _one_missing_m(pattern, pattern.bolt_spacing_m) + _ABOVE_ONE_MISSING_M
    return GapLimits(
        wide.quantize(_STATED_TO, rounding=ROUND_CEILING),
        missing.quantize(_STATED_TO, rounding=ROUND_FLOOR),
    )


def _rework(support_class: SupportClass) -> Iterator[Fault]:
    pattern, limit = support_class.pattern, support_class.limits.largest_gap
    widest_m = rounded(_at_full_tolerance_m(pattern, Decimal(0)), STEP_M)
    if limit.at_most_m < widest_m:
        reason = f"the pattern itself has gaps of {metres(widest_m)} at full tolerance"
        yield Refusal(f"{_PATH}.at_most_m", f"{reason}, so good rounds would be rework")
    spacing_m = spacing_in_row_m(support_class) or pattern.bolt_spacing_m
    missing_m = min(
        _one_missing_m(pattern, spacing_m), _one_missing_m(pattern, pattern.bolt_spacing_m)
    )
    if limit.at_most_m >= missing_m:
        reason = f"one bolt missing opens a gap of {metres(missing_m)}"
        yield Refusal(f"{_PATH}.at_most_m", f"{reason}, which this limit would not see")


def _no_entry(support_class: SupportClass) -> Iterator[Fault]:
    limit = support_class.limits.largest_gap
    missing_m = _one_missing_m(support_class.pattern, support_class.pattern.bolt_spacing_m)
    if limit.no_entry_above_m > missing_m + _ABOVE_ONE_MISSING_M:
        reason = f"one bolt missing opens a gap of {metres(missing_m)}; no entry starts"
        later = metres(limit.no_entry_above_m - missing_m)
        yield Caution(f"{_PATH}.no_entry_above_m", f"{reason} {later} later")


def _at_full_tolerance_m(pattern: Pattern, least_allowance_m: Decimal) -> float:
    spacing = pattern.bolt_spacing_m + max(pattern.bolt_spacing_tolerance_m, least_allowance_m)
    rows = pattern.row_spacing_m + max(pattern.row_spacing_tolerance_m, least_allowance_m)
    return intact_gap_m(float(spacing), float(rows), staggered=pattern.kind == "staggered")


def _one_missing_m(pattern: Pattern, spacing_m: Decimal) -> Decimal:
    staggered = pattern.kind == "staggered"
    gap = one_missing_gap_m(float(spacing_m), float(pattern.row_spacing_m), staggered=staggered)
    return rounded(gap, STEP_M)


def _on_a_pattern(support_class: SupportClass) -> Iterator[Fault]:
    if is_a_pattern(support_class):
        yield from _rework(support_class)
        yield from _no_entry(support_class)


RULES: Final[tuple[ClassRule, ...]] = (_on_a_pattern,)
