"""What is asked of a bolt that is pulled: each load and how far its head came, then what gave."""

from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal
from itertools import count, islice
from typing import Any, Final

from fieldapp.work.asked import UNKNOWN, Asked, Choice, Digits, whole_number
from fieldapp.work.bolt_tests.draft import LOAD_NOW, NO_MORE, BoltTestWork
from fieldapp.work.bolt_tests.pick import AS_READ, NOT_KNOWN, no_more
from schemas.bolt_test_rules import BoltTestRule
from schemas.numbers import text
from schemas.standard import Standard

LARGEST_KN: Final = "5000"
LARGEST_MM: Final = "500"
LOAD_STEP_KN: Final = 10
LOADS_OFFERED: Final = 2
COMES_MM: Final = ("0", "0.5", "1", "2")
"""How much farther the head may have come, on chips."""
MINUTES: Final = (1, 2, 5)
MOST_MINUTES: Final = "1440"
GAVE: Final = ("nothing", "bar", "thread", "anchor slipped", "plate")
PULLS: Final = {"proof pull": "proof", "destructive pull": "destructive"}


def rule_of(work: BoltTestWork, standard: Standard | None) -> BoltTestRule | None:
    """Give the standard's rule for the pull that is being made."""
    kind = PULLS.get(work.said.get("kind", ""))
    rules = standard.bolt_tests if standard else ()
    of_type = (it for it in rules if it.bolt_type == work.said.get("bolt_type"))
    return next((it for it in of_type if it.kind == kind), None)


def pulled(work: BoltTestWork, rule: BoltTestRule | None) -> Iterator[Asked]:
    """Yield what is asked of the readings of a pull, by the rule that it is made by."""
    read = work.readings
    if LOAD_NOW in work.said:
        yield _displacement(work.said[LOAD_NOW], read, rule)
    elif NO_MORE not in work.said:
        yield _load(work, rule)
    gave = tuple(Choice(it, {"broke": it}) for it in GAVE)
    yield Asked("broke", ask="What gave?", hint="", choices=gave)
    if rule is not None and rule.hold_min and work.said.get("broke") == "nothing":
        yield _held(rule)


def _held(rule: BoltTestRule) -> Asked:
    choices = tuple(Choice(str(it), {"held_min": it}, "min") for it in MINUTES)
    unknown = Choice(UNKNOWN, {"held_min": None}, NOT_KNOWN)
    demanded = f"{rule.hold_min} min demanded"
    digits = whole_number("min", demanded, MOST_MINUTES, lambda it: {"held_min": it})
    return Asked(
        "held_min",
        ask="How long was the load held?",
        hint="The hold timer counts it while you read.",
        choices=(*choices, unknown),
        digits=digits,
    )


def _load(work: BoltTestWork, rule: BoltTestRule | None) -> Asked:
    read = work.readings
    last = Decimal(read[-1]["load_kn"]) if read else Decimal(-1)
    loads = _loads_offered(last, rule)
    choices = [Choice(text(it), {LOAD_NOW: text(it)}, "kN") for it in loads]
    digits = Digits("kN", _demanded(rule), LARGEST_KN, lambda it: {LOAD_NOW: text(it)})
    ask = f"Reading {len(read) + 1}: which load?"
    return Asked(
        f"load {len(read)}",
        ask=ask,
        hint="Stand aside of the bolt, never below the jack.",
        choices=(*choices, *no_more(read)),
        digits=digits,
    )


def _loads_offered(last: Decimal, rule: BoltTestRule | None) -> list[Decimal]:
    """Offer the next round loads, and the one that is demanded.

    The first reading is below it, since the head comes from there; a proof test goes no higher.
    """
    first = int(last // LOAD_STEP_KN + 1) * LOAD_STEP_KN if last >= 0 else 0
    offered = {Decimal(it) for it in islice(count(first, LOAD_STEP_KN), LOADS_OFFERED)}
    if rule is None:
        return sorted(offered)
    if rule.kind == "proof":
        offered = {it for it in offered if it < rule.proof_kn}
    if last >= 0 and (rule.kind == "proof" or rule.proof_kn > last):
        offered.add(max(rule.proof_kn, last))
    return sorted(offered)


def _demanded(rule: BoltTestRule | None) -> str:
    return AS_READ if rule is None else f"{text(rule.proof_kn)} kN demanded"


def _displacement(
    load: str, read: Sequence[Mapping[str, str]], rule: BoltTestRule | None
) -> Asked:
    last = Decimal(read[-1]["displacement_mm"]) if read else Decimal(0)
    offered = tuple(text(last + Decimal(it)) for it in COMES_MM)
    allowed = f"{text(rule.slip_at_most_mm)} mm allowed" if rule else "since the first reading"
    digits = Digits("mm", allowed, LARGEST_MM, _came)
    return Asked(
        f"displacement at {load}",
        ask=f"At {load} kN: how far has the head come?",
        hint="Since the first reading, in all.",
        choices=tuple(Choice(it, {"displacement_mm": it}, "mm") for it in offered),
        digits=digits,
    )


def _came(typed: Decimal) -> dict[str, Any]:
    return {"displacement_mm": text(typed)}
