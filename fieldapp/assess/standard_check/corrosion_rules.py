"""Whether rust can be judged by a standard: its card, its rates, and what must be left."""

from collections.abc import Iterator
from decimal import Decimal
from itertools import pairwise
from typing import Final

from fieldapp.assess.corrosion.atmosphere import Metal, corrosivity
from fieldapp.assess.standard_check.faults import (
    Caution,
    Fault,
    Refusal,
    StandardRule,
    plain,
)
from fieldapp.assess.walk import WORSE
from schemas.corrosion_rules import CorrosionRate, Steel
from schemas.standard import Standard

_METALS: Final[tuple[Metal, ...]] = ("steel", "zinc")


def _grades(standard: Standard) -> Iterator[Fault]:
    rule = standard.corrosion
    grades = [it.grade for it in rule.grades]
    for index, grade in enumerate(grades):
        if grade in grades[:index]:
            yield Refusal(
                f"$.corrosion.grades[{index}].grade", f"grade {grade} stands there twice"
            )
    if not grades:
        yield Caution("$.corrosion.grades", "there is no card, so nobody can grade rust alike")
    elif rule.bolt_counts_below_grade not in grades:
        reason = f"the card has no grade {rule.bolt_counts_below_grade}"
        yield Refusal("$.corrosion.bolt_counts_below_grade", reason)
    for grade in set(range(max(grades, default=0))) - set(grades):
        yield Caution("$.corrosion.grades", f"the card has no grade {grade}")


def _rates(standard: Standard) -> Iterator[Fault]:
    rates = standard.corrosion.rates
    named = [it.corrosivity for it in rates]
    for index, category in enumerate(named):
        if category in named[:index]:
            path = f"$.corrosion.rates[{index}].corrosivity"
            yield Refusal(path, f"{category} stands there twice")
    missing = [it for it in WORSE if it not in named]
    if missing:
        reason = f"nothing says how fast steel goes in {', '.join(missing)}"
        yield Caution("$.corrosion.rates", f"{reason}: there its age tells nothing")


def _worse_is_no_slower(standard: Standard) -> Iterator[Fault]:
    order = sorted(
        enumerate(standard.corrosion.rates), key=lambda it: WORSE.index(it[1].corrosivity)
    )
    for (_, milder), (index, worse) in pairwise(order):
        for metal in _METALS:
            if _um(worse, metal) < _um(milder, metal):
                path = f"$.corrosion.rates[{index}].{metal}_um_per_year"
                slower = f"{metal} loses {plain(_um(worse, metal))} µm a year in"
                faster = f"{plain(_um(milder, metal))} µm in the milder {milder.corrosivity}"
                yield Refusal(path, f"{slower} {worse.corrosivity}, and {faster}")


def _published(standard: Standard) -> Iterator[Fault]:
    """Tell of rates that ISO 9223 puts into another category of air: water may be worse."""
    for index, rate in enumerate(standard.corrosion.rates):
        for metal in _METALS:
            um = _um(rate, metal)
            category = corrosivity(metal, float(um))
            if category is not None and WORSE.index(category) < WORSE.index(rate.corrosivity):
                path = f"$.corrosion.rates[{index}].{metal}_um_per_year"
                reason = f"{plain(um)} µm of {metal} in the first year is {category} in ISO 9223"
                yield Caution(path, f"{reason}, milder than {rate.corrosivity}")


def _left(standard: Standard) -> Iterator[Fault]:
    named = [it.of for it in standard.corrosion.left]
    for index, it in enumerate(standard.corrosion.left):
        path = f"$.corrosion.left[{index}]"
        if it.of in named[:index]:
            yield Refusal(f"{path}.of", f"{it.of} stands there twice")
        if it.share_at_least == 1:
            yield Caution(f"{path}.share_at_least", f"a {it.of} would fail with its first rust")
    for steel, what in _put_up(standard):
        if steel not in named:
            reason = f"nothing says how much of {what} must be left"
            yield Caution("$.corrosion.left", reason)


def _put_up(standard: Standard) -> Iterator[tuple[Steel, str]]:
    """Yield the steel that the standard's classes put up."""
    bolts = {bolt.kind for it in standard.classes for bolt in it.bolts}
    if any(it.mesh for it in standard.classes):
        yield "wire", "the wire of mesh"
    if "friction bolt" in bolts:
        yield "tube", "the tube of friction bolts"
    if bolts - {"friction bolt"}:
        yield "bar", "the bar of bolts"


def _um(rate: CorrosionRate, metal: Metal) -> Decimal:
    return rate.steel_um_per_year if metal == "steel" else rate.zinc_um_per_year


RULES: Final[tuple[StandardRule, ...]] = (
    _grades,
    _rates,
    _worse_is_no_slower,
    _published,
    _left,
)
