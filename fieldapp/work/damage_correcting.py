"""Putting an observation right: what was stated stands on keys; what is touched is asked anew."""

from decimal import Decimal
from typing import Any, Final

from assets.translate import _
from fieldapp.work.damage_draft import ANEW, DamageWork
from fieldapp.work.damage_questions import (
    UNKNOWN,
    DamageChoice,
    DamageQuestion,
    question_now,
    questions,
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
    "severity": _("how grave"),
    "rock_behind": _("rock behind"),
    "exposure": _("people beneath"),
    "cause": _("cause"),
    "age": _("age"),
}
UNITS: Final = {"value_m": "m", "value_mm": "mm", "value_t": "t"}


def question_of_correction(
    work: DamageWork, standard: Standard | None, face_m: Decimal
) -> DamageQuestion:
    """Give what is asked anew; what else is to be put right, once that was answered."""
    asked = question_now(work, standard, (), face_m)
    return asked or what_to_correct(work, standard, face_m)


def what_to_correct(
    work: DamageWork, standard: Standard | None, face_m: Decimal
) -> DamageQuestion:
    """Ask which of the things that were stated is to be put right."""
    keys = (it.key for it in questions(work, standard, (), face_m) if it.key in NAMES)
    return DamageQuestion(
        ANEW,
        ask="What is to be put right?",
        hint="What was stated before is kept beside it.",
        choices=tuple(DamageChoice(_stated(work, it), {ANEW: it}, NAMES[it]) for it in keys),
    )


def _stated(work: DamageWork, key: str) -> str:
    """Say what was stated of one thing: "torn mesh", "590.4 m", "?"."""
    value: Any = work.said.get(key, work.said.get("extent", {}).get(key))
    if isinstance(value, dict):
        return next(f"{value[it]} {unit}" for it, unit in UNITS.items() if it in value)
    if value is None:
        return "at one place" if key == "to_m" else UNKNOWN
    return f"{value} m" if key.endswith("_m") else str(value)
