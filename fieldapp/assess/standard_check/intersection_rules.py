"""Whether what a class states for intersections fits itself."""

from collections.abc import Iterator
from decimal import Decimal
from typing import Final

from fieldapp.assess.density import pattern_density_per_m2
from fieldapp.assess.gaps.of_pattern import intact_gap_m, one_missing_gap_m
from fieldapp.assess.standard_check.faults import ClassRule, Fault, Refusal, metres, plain
from schemas.intersection_rules import CableRule, IntersectionRule, PlanPattern
from schemas.numbers import STEP_M, STEP_PER_M2, rounded
from schemas.standard import SupportClass

_PATH: Final = ".intersection"


def _intersection(support_class: SupportClass) -> Iterator[Fault]:
    rule = support_class.intersection
    if rule is None:
        return
    for name, limit in (("span", rule.span), ("largest_gap", rule.largest_gap)):
        if limit is not None:
            yield from _bounds(f"{_PATH}.{name}", limit.at_most_m, limit.no_entry_above_m)
    yield from _pattern(rule)
    if rule.load is not None and support_class.demand is None:
        yield Refusal(f"{_PATH}.load", "nothing says what the support of this class must carry")
    if rule.cables is not None:
        yield from _cables(support_class, rule.cables)


def _bounds(path: str, at_most_m: Decimal, no_entry_above_m: Decimal | None) -> Iterator[Fault]:
    if at_most_m <= 0:
        yield Refusal(f"{path}.at_most_m", "a limit of nothing lets no intersection be")
    if no_entry_above_m is not None and no_entry_above_m < at_most_m:
        reason = f"no entry starts before {metres(at_most_m)}, which is still allowed"
        yield Refusal(f"{path}.no_entry_above_m", reason)


def _pattern(rule: IntersectionRule) -> Iterator[Fault]:
    pattern = rule.pattern
    if pattern is None:
        if rule.bolts_present is not None:
            yield Refusal(f"{_PATH}.pattern", "nothing says how many bolts are demanded")
        return
    if rule.largest_gap is not None:
        yield from _gap(pattern, rule.largest_gap.at_most_m)
    if rule.density is not None:
        drawn = rounded(
            pattern_density_per_m2(float(pattern.bolt_spacing_m), float(pattern.row_spacing_m)),
            STEP_PER_M2,
        )
        if drawn < rule.density.at_least_per_m2:
            reason = f"a perfect pattern has {plain(drawn)} bolts per m²"
            yield Refusal(f"{_PATH}.density.at_least_per_m2", reason)


def _gap(pattern: PlanPattern, at_most_m: Decimal) -> Iterator[Fault]:
    path, staggered = f"{_PATH}.largest_gap.at_most_m", pattern.kind == "staggered"
    drawn = float(pattern.bolt_spacing_m), float(pattern.row_spacing_m)
    wide = [it + float(pattern.tolerance_m) for it in drawn]
    widest = rounded(intact_gap_m(wide[0], wide[1], staggered=staggered), STEP_M)
    missing = rounded(one_missing_gap_m(*drawn, staggered=staggered), STEP_M)
    if at_most_m < widest:
        yield Refusal(path, f"the pattern itself has gaps of {metres(widest)} at full tolerance")
    if at_most_m >= missing:
        reason = f"one bolt missing opens a gap of {metres(missing)}"
        yield Refusal(path, f"{reason}, which this limit would not see")


def _cables(support_class: SupportClass, rule: CableRule) -> Iterator[Fault]:
    if rule.length is None:
        return
    longest = max(it.length_m for it in support_class.bolts)
    if longest < rule.length.at_least_m:
        reason = f"the longest bolt of this class is {metres(longest)} long"
        yield Refusal(f"{_PATH}.cables.length.at_least_m", reason)


RULES: Final[tuple[ClassRule, ...]] = (_intersection,)
