"""Putting an observation right: what was stated stands on keys; what is touched is asked anew."""

from collections.abc import Iterator
from decimal import Decimal
from textwrap import shorten
from typing import Any, Final

from assets.translate import _
from fieldapp.work.asked import UNKNOWN, Asked, Choice, Letters
from fieldapp.work.damage.draft import ANEW, DamageWork
from fieldapp.work.damage.questions import (
    LARGEST_MM,
    LENGTHS_MM,
    answered,
    question_now,
    questions,
    reading,
)
from schemas.standard import Standard

NAMES: Final = {
    "kind": _("what it is"),
    "chainage_m": _("where it begins"),
    "zone": _("part of the drive"),
    "to_m": _("where it ends"),
    "openings": _("openings long"),
    "above_floor": _("above the floor"),
    "bag_depth": _("it hangs by"),
    "loose_mass": _("broken rock in it"),
    "length": _("length"),
    "width": _("width"),
    "area": _("area"),
    "note": _("note"),
    "severity": _("how grave"),
    "rock_behind": _("rock behind"),
    "exposure": _("people beneath"),
    "cause": _("cause"),
    "age": _("age"),
}
UNITS: Final = {"value_m": "m", "value_mm": "mm", "value_m2": "m²", "value_t": "t"}
AREAS_M2: Final = ("0.1", "0.25", "0.5", "1", "2")
NO_NOTE: Final = "no note"
LONGEST_NOTE: Final = 120
"""Letters that a glove types; from a terminal a note may be longer."""
SHOWN_OF_A_NOTE: Final = 24


def question_of_correction(work: DamageWork, standard: Standard | None, face_m: Decimal) -> Asked:
    """Give what is asked anew; what else is to be put right, once that was answered."""
    asked = question_now(work, standard, (), face_m)
    anew = {it.says[ANEW] for it in work.standing if ANEW in it.says} - answered(work)
    further = (it for it in _further(work) if it.key in anew)
    return asked or next(further, None) or what_to_correct(work, standard, face_m)


def what_to_correct(work: DamageWork, standard: Standard | None, face_m: Decimal) -> Asked:
    """Ask which of the things that were stated is to be put right."""
    asked = (*questions(work, standard, (), face_m), *_further(work))
    keys = dict.fromkeys(it.key for it in asked if it.key in NAMES)
    return Asked(
        ANEW,
        ask="What is to be put right?",
        hint="What was stated before is kept beside it.",
        choices=tuple(Choice(_stated(work, it), {ANEW: it}, NAMES[it]) for it in keys),
    )


def _further(work: DamageWork) -> Iterator[Asked]:
    """Yield what nobody is asked on the way, and what a photo or somebody told all the same."""
    how = work.said.get("how")
    by = "eye" if how in (None, "photo") else str(how)
    millimetres = ("mm", tuple(map(str, LENGTHS_MM)), LARGEST_MM)
    yield reading("length", millimetres, by, ask="How long is it?")
    yield reading("width", millimetres, by, ask="How wide is it?")
    yield reading("area", ("m²", AREAS_M2, "1000"), by, ask="How large is it?")
    yield Asked(
        "note",
        ask="What is to be noted?",
        hint="In a few words.",
        choices=(Choice(NO_NOTE, {"note": ""}),),
        digits=Letters(LONGEST_NOTE, lambda typed: {"note": typed.strip()}),
    )


def _stated(work: DamageWork, key: str) -> str:
    """Say what was stated of one thing: "torn mesh", "590.4 m", "?"."""
    value: Any = work.said.get(key, work.said.get("extent", {}).get(key))
    if key == "note":
        return shorten(value or NO_NOTE, SHOWN_OF_A_NOTE, placeholder="…")
    if isinstance(value, dict):
        return next(f"{value[it]} {unit}" for it, unit in UNITS.items() if it in value)
    if value is None:
        return "at one place" if key == "to_m" else UNKNOWN
    return f"{value} m" if key.endswith("_m") else str(value)
