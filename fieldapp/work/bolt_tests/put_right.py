"""What is asked of a test that is put right: what was stated stands on keys; a touch asks anew."""

from collections.abc import Iterator
from typing import Any, Final

from assets.translate import _
from fieldapp.work.asked import UNKNOWN, Asked, Choice, Letters
from fieldapp.work.bolt_tests.draft import ANEW, BoltTestWork
from fieldapp.work.bolt_tests.pick import PickFrom
from fieldapp.work.bolt_tests.questions import question_now

WHY: Final = "corrected_because"
REASONS: Final = ("typed wrong", "wrong bolt", "gauge misread", "not known then")
NAMES: Final = {
    "chainage_m": _("where"),
    "zone": _("part of the drive"),
    "bolt_type": _("bolt type"),
    "bolt": _("row and bolt"),
    "pulled": _("readings"),
    "held_min": _("how long held"),
    "broke": _("what gave"),
    "torque_nm": _("torque"),
    "cores_mpa": _("cores"),
    "age_days": _("days old"),
    "batch": _("batch"),
    "crew": _("crew"),
    "installed_at": _("put in"),
    "rig": _("rig or wrench"),
    "rig_checked_at": _("calibrated"),
    "part_of_support": _("which bolt"),
    "why": _("why it was made"),
}
UNITS: Final = {"chainage_m": "m", "held_min": "min", "torque_nm": "N·m", "age_days": "days"}
_OF_PULLS: Final = ("pulled", "held_min", "broke")
_OF_BOLTS: Final = ("bolt_type", "bolt", "batch", "crew", "installed_at", "rig", "rig_checked_at")
_OF: Final[dict[str, tuple[str, ...]]] = {
    "proof pull": (*_OF_PULLS, *_OF_BOLTS),
    "destructive pull": (*_OF_PULLS, *_OF_BOLTS, "part_of_support"),
    "torque": ("torque_nm", *_OF_BOLTS),
    "shotcrete cores": ("cores_mpa", "age_days"),
}
_LONGEST: Final = 120
_LONGEST_WHY: Final = 400


def question_of_correction(work: BoltTestWork, pick: PickFrom) -> Asked:
    """Give what is asked anew, then why; else what else is to be put right."""
    asked = question_now(work, pick)
    if asked is not None:
        return asked
    return _why() if work.standing and WHY not in work.said else _what(work)


def looked_over(work: BoltTestWork) -> Asked:
    """Show what was said of a new test before it is kept; a touch asks it anew."""
    kind = str(work.said["kind"])
    order = (*_OF_BOLTS, *_OF[kind], "why", "chainage_m", "zone")
    keys = (it for it in dict.fromkeys(order) if it in ("why", "chainage_m", "zone", *_OF[kind]))
    return Asked(
        ANEW,
        ask="Everything is read: look at it once more, then keep it.",
        hint="Touch what is not so.",
        choices=tuple(Choice(_stated(work, it), {ANEW: it}, NAMES[it]) for it in keys),
    )


def is_put_right(work: BoltTestWork, asked: Asked | None) -> bool:
    """Whether something was changed, with the reason, and nothing is asked on the way."""
    return asked is not None and asked.key == ANEW and WHY in work.said


def is_pending(asked: Asked | None) -> bool:
    """Whether something is asked of the test itself: what it comes to may change by that."""
    return asked is not None and asked.key not in (ANEW, WHY)


def _why() -> Asked:
    return Asked(
        WHY,
        ask="Why was it stated otherwise?",
        hint="What was stated first is kept beside it.",
        choices=tuple(Choice(it, {WHY: it}) for it in REASONS),
        digits=Letters(_LONGEST, lambda typed: {WHY: typed.strip()}),
    )


def _what(work: BoltTestWork) -> Asked:
    keys = ("chainage_m", "zone", *_OF[str(work.said["kind"])], "why")
    anew = tuple(Choice(_stated(work, it), {ANEW: it}, NAMES[it]) for it in keys)
    return Asked(
        ANEW,
        ask="What is to be put right?",
        hint="What was stated first is kept beside it.",
        choices=(*_agreeing(work), *anew),
    )


def _agreeing(work: BoltTestWork) -> Iterator[Choice]:
    """Yield the key by which an engineer agrees with a correction that waits for that."""
    reason = work.about.agrees_with
    if reason is not None and not work.standing:
        yield Choice("agree", {WHY: f"agreed: {reason}"[:_LONGEST_WHY]}, _("with the correction"))


def _stated(work: BoltTestWork, key: str) -> str:
    """Say what was stated of one thing: "590.4 m", "3 read", "?"."""
    value: Any = work.said.get(key)
    if key == "pulled":
        return f"{len(value or ())} read"
    if key == "cores_mpa":
        return ", ".join(value or ())
    if key == "part_of_support":
        return "support" if value else "put in for it"
    if value is None:
        return UNKNOWN
    said = str(value)[:10] if key in ("installed_at", "rig_checked_at") else str(value)
    return " ".join(filter(None, (said, UNITS.get(key))))
