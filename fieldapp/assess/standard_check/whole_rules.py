"""Whether a standard as a whole is sound: dates, events, tests, and a reason for everything."""

import re
from collections.abc import Iterator
from typing import Final, get_args

from pydantic import BaseModel

from fieldapp.assess.capacity import steel_kn
from fieldapp.assess.standard_check.faults import (
    Caution,
    Fault,
    Refusal,
    StandardRule,
    metres,
    plain,
)
from schemas.bolt_test_rules import BoltTestRule
from schemas.json_places import Step, path_of
from schemas.numbers import STEP_KN, rounded
from schemas.standard import BoltType, EventWhat, Standard

_FIRST_YEAR: Final = 2000
_LONGEST_DEVIATION_H: Final = 24
_COMMON_PRACTICE: Final = re.compile(r"common practice\b[^0-9]*", re.IGNORECASE)


def _effective(standard: Standard) -> Iterator[Fault]:
    year = standard.effective_from.year
    if year < _FIRST_YEAR:
        yield Refusal("$.effective_from", f"no standard takes effect in the year {year}")


def _words(standard: Standard) -> Iterator[Fault]:
    for path, part in _parts(standard, ()):
        for name in type(part).model_fields:
            said = getattr(part, name)
            if isinstance(said, str) and not any(map(str.isalnum, said)):
                yield Refusal(f"{path}.{name}", "it is empty")


def _reasons(standard: Standard) -> Iterator[Fault]:
    for path, part in _parts(standard, ()):
        because = getattr(part, "because", "")
        if not standard.demo and _COMMON_PRACTICE.fullmatch(because):
            reason = "the only reason is common practice; the mine should state its own"
            yield Caution(f"{path}.because", reason)


def _unknown_fields(standard: Standard) -> Iterator[Fault]:
    for path, part in _parts(standard, ()):
        for unknown in part.model_extra or ():
            reason = "this version doesn't know it, so nothing is judged by it"
            yield Caution(f"{path}{path_of((unknown,))[1:]}", reason)


def _parts(part: BaseModel, steps: tuple[Step, ...]) -> Iterator[tuple[str, BaseModel]]:
    yield path_of(steps), part
    for name in type(part).model_fields:
        value = getattr(part, name)
        if isinstance(value, BaseModel):
            yield from _parts(value, (*steps, name))
        elif isinstance(value, tuple):
            for index, item in enumerate(value):
                if isinstance(item, BaseModel):
                    yield from _parts(item, (*steps, name, index))


def _events(standard: Standard) -> Iterator[Fault]:
    named = [rule.what for rule in standard.events]
    for what in get_args(EventWhat):
        if what not in named:
            yield Refusal("$.events", f"nothing says what “{what}” withdraws")
    for index, rule in enumerate(standard.events):
        if rule.what in named[:index]:
            yield Refusal(f"$.events[{index}].what", f"“{rule.what}” stands there twice")
        if rule.radius_m == 0:
            path = f"$.events[{index}].radius_m"
            yield Refusal(path, f"“{rule.what}” would withdraw entry to nothing")


def _deviations(standard: Standard) -> Iterator[Fault]:
    hours = standard.deviations.at_most_h
    if not 0 < hours <= _LONGEST_DEVIATION_H:
        reason = f"a deviation stands for up to {_LONGEST_DEVIATION_H} h, not {plain(hours)} h"
        yield Refusal("$.deviations.at_most_h", reason)


def _one_code_one_bolt(standard: Standard) -> Iterator[Fault]:
    known: dict[str, tuple[str, BoltType]] = {}
    for place, support_class in enumerate(standard.classes):
        for index, bolt in enumerate(support_class.bolts):
            first_class, first = known.setdefault(bolt.code, (support_class.code, bolt))
            if (first.length_m, first.kind) != (bolt.length_m, bolt.kind):
                here = f"{metres(bolt.length_m)} {bolt.kind}"
                there = f"{metres(first.length_m)} {first.kind} in {first_class}"
                path = f"$.classes[{place}].bolts[{index}].code"
                yield Refusal(path, f"{bolt.code} is a {here} here and a {there}")


def _bolt_tests(standard: Standard) -> Iterator[Fault]:
    bolts = {bolt.code: bolt for known in standard.classes for bolt in known.bolts}
    for index, rule in enumerate(standard.bolt_tests):
        yield from _bolt_test(rule, bolts.get(rule.bolt_type), f"$.bolt_tests[{index}]")
    tested = {rule.bolt_type for rule in standard.bolt_tests}
    for code in bolts:
        if code not in tested:
            yield Caution("$.bolt_tests", f"nothing says how often {code} is pulled")


def _bolt_test(rule: BoltTestRule, bolt: BoltType | None, path: str) -> Iterator[Fault]:
    if bolt is None:
        yield Refusal(f"{path}.bolt_type", f"no class has a bolt {rule.bolt_type}")
        return
    steel = rounded(steel_kn(float(bolt.thread_area_mm2), float(bolt.steel_mpa)), STEP_KN)
    if rule.proof_kn >= steel:
        reason = f"a proof load of {plain(rule.proof_kn)} kN is no less than the thread carries"
        yield Refusal(f"{path}.proof_kn", f"{reason}, {plain(steel)} kN")


def _walk(standard: Standard) -> Iterator[Fault]:
    if standard.walk is None:
        yield Caution("$.walk", "nothing says how often supported ground is walked again")


RULES: Final[tuple[StandardRule, ...]] = (
    _effective,
    _events,
    _deviations,
    _one_code_one_bolt,
    _bolt_tests,
    _walk,
    _words,
    _reasons,
    _unknown_fields,
)
