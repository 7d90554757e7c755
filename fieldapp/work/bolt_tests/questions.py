"""What is asked of a test of support, one thing at a time; nothing is answered beforehand.

Which bolt comes first, then what it is pulled with, then one reading after the other.
"""

from collections.abc import Iterator, Sequence
from datetime import datetime, timedelta
from decimal import Decimal
from functools import partial
from typing import Any, Final, get_args

from fieldapp.assess.bolt_tests import PutIn, torque_rule
from fieldapp.assess.times import date_words
from fieldapp.work.asked import UNKNOWN, Asked, Choice, Digits, whole_number
from fieldapp.work.batches import labels_for
from fieldapp.work.bolt_tests.cores import cores
from fieldapp.work.bolt_tests.draft import BOLT_ROW, BoltTestWork
from fieldapp.work.bolt_tests.pick import AS_READ, MOST_DAYS, NOT_KNOWN, PickFrom
from fieldapp.work.bolt_tests.pulls import pulled, rule_of
from schemas.bodies.bolt_test import BoltTestKind, Why
from schemas.bodies.damage import DamageZone
from schemas.numbers import text
from schemas.standard import Standard

MOST_ROWS, MOST_BOLTS = "60", "60"
LARGEST_NM: Final = "5000"
MOST_PICKED: Final = 6
"""Of batches, rigs and wrenches; the newest first."""
ANOTHER: Final = Choice("Another", {}, "by its name")
"""Says nothing by itself: its name is typed."""


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
        yield from cores(work, pick)
    else:
        yield from pulled(work, rule_of(work, pick.standard))
