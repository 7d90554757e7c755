"""What is asked of a test of support, one thing at a time; nothing is answered beforehand.

Which bolt comes first, then what it is pulled with, then one reading after the other.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from decimal import Decimal
from functools import partial
from itertools import count, islice
from typing import Any, Final, get_args

from fieldapp.assess.bolt_tests import PutIn, torque_rule
from fieldapp.assess.times import date_words
from fieldapp.work.asked import UNKNOWN, Asked, Choice, Digits, whole_number
from fieldapp.work.batches import labels_for
from fieldapp.work.bolt_tests.draft import BOLT_ROW, CORE, LOAD_NOW, NO_MORE, BoltTestWork
from schemas.bodies.batch import Batch
from schemas.bodies.bolt_test import BoltTestKind, Why
from schemas.bodies.damage import DamageZone
from schemas.bolt_test_rules import BoltTestRule
from schemas.numbers import text
from schemas.standard import Standard

MOST_ROWS, MOST_BOLTS = "60", "60"
AS_READ: Final = "as it is read"
NOT_KNOWN: Final = "not known"
LARGEST_KN: Final = "5000"
LARGEST_MM: Final = "500"
LARGEST_NM: Final = "5000"
LARGEST_MPA: Final = "200"
LOAD_STEP_KN: Final = 10
LOADS_OFFERED: Final = 2
COMES_MM: Final = ("0", "0.5", "1", "2")
"""How much farther the head may have come, on chips."""
MINUTES: Final = (1, 2, 5)
MOST_DAYS: Final = "36500"
MOST_MINUTES: Final = "1440"
GAVE: Final = ("nothing", "bar", "thread", "anchor slipped", "plate")
PULLS: Final = {"proof pull": "proof", "destructive pull": "destructive"}
MOST_PICKED: Final = 6
"""Of batches, rigs and wrenches; the newest first."""
ANOTHER: Final = Choice("Another", {}, "by its name")
"""Says nothing by itself: its name is typed."""


@dataclass(frozen=True)
class Rig:
    """A pull rig or wrench that was used before, and when it was calibrated last."""

    name: str
    checked_at: datetime | None
    turns: bool = False
    """Whether bolts were turned with it: a wrench."""


@dataclass(frozen=True)
class PickFrom:
    """What answers are picked from."""

    standard: Standard | None
    rounds: tuple[PutIn, ...]
    """Accepted ones of the heading."""
    face_m: Decimal
    crews: tuple[str, ...]
    batches: tuple[Batch, ...]
    """Every one that was entered, the newest first."""
    rigs: tuple[Rig, ...]
    today: datetime
    """In the mine's zone."""


def question_now(work: BoltTestWork, pick: PickFrom) -> Asked | None:
    """Give what is asked next; None once everything was answered."""
    asked = (it for it in questions(work, pick) if it.key not in work.said)
    return next(asked, None)


def questions(work: BoltTestWork, pick: PickFrom) -> Iterator[Asked]:
    """Yield everything that is asked of this test, in the order in which it is asked."""
    yield _of("kind", get_args(BoltTestKind), ask="Which test is it?")
    whys = (it for it in get_args(Why) if it != "follows a failed test")
    yield _of("why", tuple(whys), ask="Why is it made?")
    kind = work.said.get("kind")
    if kind != "shotcrete cores":
        codes = _codes(pick.standard)
        yield _of("bolt_type", codes, ask="Which bolt type?", hint="As the standard calls it.")
    yield from _place(pick)
    if kind == "destructive pull":
        yield _part_of_support()
    if kind != "shotcrete cores":
        yield from _put_in(work, pick)
    yield from _by(work, pick)
    yield from readings(work, pick)


def _of(
    key: str, words: Sequence[str], *, ask: str, hint: str = "", unknown: bool = False
) -> Asked:
    choices = [Choice(it, {key: it}) for it in words]
    if unknown:
        choices.append(Choice(UNKNOWN, {key: None}, NOT_KNOWN))
    return Asked(key, ask=ask, hint=hint, choices=tuple(choices))


def _codes(standard: Standard | None) -> tuple[str, ...]:
    classes = standard.classes if standard else ()
    return tuple(dict.fromkeys(bolt.code for known in classes for bolt in known.bolts))


def _place(pick: PickFrom) -> Iterator[Asked]:
    def says(typed: Decimal) -> dict[str, Any]:
        of = next((it for it in pick.rounds if it.holds(typed)), None)
        return {"chainage_m": text(typed), "round": of.round_id if of else None}

    limit = f"the face is at {text(pick.face_m)} m"
    digits = Digits("m", limit, str(pick.face_m), says)
    yield Asked(
        "chainage_m", ask="Where is it?", hint="By its chainage.", choices=(), digits=digits
    )
    hint = "Looking toward the face."
    yield _of("zone", get_args(DamageZone), ask="On which part of the drive?", hint=hint)


def _part_of_support() -> Asked:
    choices = (
        Choice("put in for it", {"part_of_support": False}, "no part of the support"),
        Choice("support", {"part_of_support": True}, "it will be gone"),
    )
    hint = "A bolt of the support that is pulled to failure is replaced beside."
    return Asked("part_of_support", ask="Which bolt is pulled?", hint=hint, choices=choices)


def _put_in(work: BoltTestWork, pick: PickFrom) -> Iterator[Asked]:
    """Yield what is known of the bolt; what its round said stands on the chips."""
    of = next((it for it in pick.rounds if it.round_id == work.said.get("round")), None)
    put_in_for_it = work.said.get("part_of_support") is False
    said = of if of is not None and not put_in_for_it else None
    if said is not None:
        yield from _which_bolt(work, said)
    used = said.batches if said else frozenset()
    yield _batch(work, pick, used)
    crews = (said.crew,) if said and said.crew else pick.crews
    yield _of("crew", crews, ask="Which crew put it in?", unknown=True)
    days = () if said is None else (said.at,)
    yield _day("installed_at", days, pick, ask="When was it put in?")


def _batch(work: BoltTestWork, pick: PickFrom, used: frozenset[str]) -> Asked:
    """Ask for the batch: what gives is what is put in doubt with it."""
    labels = labels_for(pick.batches, work.said.get("bolt_type"), used)
    of = {it.label: it.of for it in pick.batches}
    offered = labels if used else labels[:MOST_PICKED]
    choices = [Choice(it, {"batch": it}, of.get(it, "")) for it in offered]
    choices.append(Choice(UNKNOWN, {"batch": None}, NOT_KNOWN))
    several = len({of.get(it) for it in offered}) > 1
    hint = "An anchor that slips tells of its resin, a bar that breaks of the bolt."
    return Asked(
        "batch",
        ask="Which batch is it of?",
        hint=hint if several else "",
        choices=tuple(choices),
    )


def _which_bolt(work: BoltTestWork, of: PutIn) -> Iterator[Asked]:
    """Yield which bolt of its round it is, as rows are counted: "2/5"."""
    unknown = Choice(UNKNOWN, {BOLT_ROW: None, "bolt": None}, NOT_KNOWN)
    rows = range(1, -(-sum(of.bolts.values()) // of.per_row) + 1)
    choices = (*(Choice(str(it), {BOLT_ROW: it}) for it in rows), unknown)
    hint = "Row 1 is nearest the joint."
    limit = "row 1 is nearest the joint"
    digits = whole_number("", limit, MOST_ROWS, lambda it: {BOLT_ROW: it}, "1")
    yield Asked(BOLT_ROW, ask="Which row of its round?", hint=hint, choices=choices, digits=digits)
    row, numbers = work.said.get(BOLT_ROW), range(1, of.per_row + 1)
    choices = tuple(Choice(str(it), {"bolt": f"{row}/{it}"}) for it in numbers)
    hint = "Counted from the left, looking toward the face."
    digits = whole_number("", "from the left", MOST_BOLTS, lambda it: {"bolt": f"{row}/{it}"}, "1")
    ask = f"Which bolt of row {row}?"
    yield Asked("bolt", ask=ask, hint=hint, choices=choices, digits=digits)


def _by(work: BoltTestWork, pick: PickFrom) -> Iterator[Asked]:
    if work.said.get("kind") == "shotcrete cores":
        return
    turns = work.said.get("kind") == "torque"
    own = [it for it in pick.rigs if it.turns == turns][:MOST_PICKED]
    choices = [Choice(it.name, {"rig": it.name}) for it in own]
    choices += [ANOTHER, Choice(UNKNOWN, {"rig": None}, NOT_KNOWN)]
    asked = partial(Asked, "rig", hint="", choices=tuple(choices))
    yield asked(ask="With which wrench?") if turns else asked(ask="With which rig?")
    rigs = (it for it in pick.rigs if it.name == work.said.get("rig"))
    days = tuple(it.checked_at for it in rigs if it.checked_at is not None)
    yield _day("rig_checked_at", days, pick, ask="When was it calibrated last?")


def _day(key: str, days: Sequence[datetime], pick: PickFrom, *, ask: str) -> Asked:
    """Ask for a day: one that is known, so many days ago, or not known."""
    choices = [
        Choice(date_words(it.astimezone(pick.today.tzinfo)), {key: it.isoformat()}) for it in days
    ]
    choices.append(Choice(UNKNOWN, {key: None}, NOT_KNOWN))

    def says(days: int) -> dict[str, Any]:
        return {key: (pick.today - timedelta(days=days)).isoformat()}

    digits = whole_number("days ago", "0 is today", MOST_DAYS, says)
    return Asked(
        key, ask=ask, hint="Other: how many days ago.", choices=tuple(choices), digits=digits
    )


def rule_of(work: BoltTestWork, standard: Standard | None) -> BoltTestRule | None:
    """Give the standard's rule for the pull that is being made."""
    kind = PULLS.get(work.said.get("kind", ""))
    rules = standard.bolt_tests if standard else ()
    of_type = (it for it in rules if it.bolt_type == work.said.get("bolt_type"))
    return next((it for it in of_type if it.kind == kind), None)


def readings(work: BoltTestWork, pick: PickFrom) -> Iterator[Asked]:
    """Yield what is asked of the readings of this test."""
    kind = work.said.get("kind")
    if kind == "torque":
        turned = torque_rule(pick.standard, work.said.get("bolt_type")) if pick.standard else None
        limit = f"{text(turned.at_least_nm)} N·m demanded" if turned else AS_READ
        says = Digits("N·m", limit, LARGEST_NM, lambda it: {"torque_nm": text(it)})
        hint = "Read as it begins to turn."
        yield Asked("torque_nm", ask="Which torque?", hint=hint, choices=(), digits=says)
    elif kind == "shotcrete cores":
        yield from _cores(work, pick)
    else:
        yield from _pulled(work, rule_of(work, pick.standard))


def _cores(work: BoltTestWork, pick: PickFrom) -> Iterator[Asked]:
    says = whole_number("days", "since it was sprayed", MOST_DAYS, lambda it: {"age_days": it})
    unknown = Choice(UNKNOWN, {"age_days": None}, NOT_KNOWN)
    of = next((it for it in pick.rounds if it.round_id == work.said.get("round")), None)
    by_round = tuple(_age(of, pick)) if of is not None else ()
    yield Asked(
        "age_days", ask="How old is it?", hint="", choices=(*by_round, unknown), digits=says
    )
    if NO_MORE not in work.said:
        pressed = work.said.get("cores_mpa", ())
        ask = f"Core {len(pressed) + 1}: which strength?"
        rule = pick.standard.cores if pick.standard else None
        limit = f"{text(rule.strength_mpa)} MPa demanded" if rule else "as it was pressed"
        digits = Digits("MPa", limit, LARGEST_MPA, lambda it: {CORE: text(it)})
        yield Asked(
            f"core {len(pressed)}",
            ask=ask,
            hint=_listed(pressed),
            choices=_no_more(pressed),
            digits=digits,
        )


def _age(of: PutIn, pick: PickFrom) -> Iterator[Choice]:
    """Yield how old the shotcrete is by what its round says of it."""
    if of.sprayed_at is not None:
        days = max(0, (pick.today - of.sprayed_at).days)
        yield Choice(str(days), {"age_days": days}, "days, by its round")


def _listed(pressed: Sequence[str]) -> str:
    return f"{', '.join(pressed)} MPa" if pressed else ""


def _pulled(work: BoltTestWork, rule: BoltTestRule | None) -> Iterator[Asked]:
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
        choices=(*choices, *_no_more(read)),
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


def _no_more(read: Sequence[object]) -> tuple[Choice, ...]:
    return (Choice("No more", {NO_MORE: True}, "all is read"),) if read else ()
