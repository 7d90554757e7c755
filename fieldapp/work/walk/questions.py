"""What is asked of a section on a walk: one answer, and what was drawn to be told in full.

Most sections take one touch. Nothing is answered beforehand; what can't be seen is said to be so.
"""

from collections.abc import Sequence
from typing import Any, Final, get_args

from fieldapp.work.asked import CARDS, UNKNOWN, Asked, Choice
from fieldapp.work.walk.open_damage import open_damage_question
from fieldapp.work.walk.section_work import SectionWork
from fieldapp.work.walk.things import (
    CANT_SEE,
    RUSTS,
    Here,
    Step,
    damage_question,
    grades,
    new_question,
    severities,
    thing_question,
)
from schemas.bodies.damage import DamageZone
from schemas.bodies.walk import NotReached, Scats, SupportPart, Water
from schemas.standard import SupportClass

NOTHING_NEW: Final = Choice("Nothing new", {"answer": "nothing new"}, "looked at")
NO_DAMAGE: Final = Choice(
    "No damage", {"answer": "nothing new", "first_look": True}, "looked at all of it"
)
SOMETHING: Final = Choice("Something", {"thing": {}, "first_look": True}, "say where and what")
SOMETHING_NEW: Final = Choice("Something new", {"thing": {}}, "say where and what")
CANT_REACH: Final = Choice("Not reached", {"answer": "not reached"}, "say why")
FROM_THE_SAME_PLACE: Final = (
    "From the same place as last time. It is kept as soon as the camera has written it."
)
THE_FIRST_PHOTO: Final = (
    "The first one here: next time it is taken again from the same place. "
    "It is kept as soon as the camera has written it."
)
MILDEST: Final = 0


def section_question(section: SectionWork, here: Here) -> Asked | None:
    """Give what is asked of a section next; None once it is answered."""
    if section.answer is None:
        return _the_answer(here)
    if section.answer == "not reached":
        return None if "not_reached" in section.said else _why_not()
    return _of_what_is_there(section, here)


def parts_of(demanded: SupportClass | None) -> tuple[SupportPart, ...]:
    """Give the parts of the support that a class puts up; without one, those of most drives."""
    if demanded is None:
        return ("bolts", "plates", "mesh", "laps", "rock")
    meshed: tuple[SupportPart, ...] = ("mesh", "laps") if demanded.mesh else ()
    sprayed: tuple[SupportPart, ...] = ("shotcrete",) if demanded.shotcrete else ()
    return ("bolts", "plates", *meshed, *sprayed, "rock")


def parts_in(zone: DamageZone, demanded: SupportClass | None) -> tuple[SupportPart, ...]:
    """Give the parts of the support that a zone has: on the floor nothing is put up."""
    return ("rock",) if zone == "floor" else parts_of(demanded)


def _the_answer(here: Here) -> Asked:
    zones = ", ".join(here.in_full)
    hint = f"Then in full: {zones}." if zones else "Touch the drive where something is new."
    if here.first_look:
        hint = hint if zones else "Nobody knows it yet. Touch the drive where something is."
        first = (NO_DAMAGE, SOMETHING, CANT_REACH)
        return Asked("answer", ask="What is there?", hint=hint, choices=first)
    choices = (NOTHING_NEW, SOMETHING_NEW, CANT_REACH)
    return Asked("answer", ask="What is new since last time?", hint=hint, choices=choices)


def _why_not() -> Asked:
    choices = tuple(Choice(it, {"not_reached": it}) for it in get_args(NotReached))
    hint = "It stays due, and somebody looks another time."
    return Asked("not_reached", ask="Why could it not be reached?", hint=hint, choices=choices)


def _of_what_is_there(section: SectionWork, here: Here) -> Asked | None:
    if section.answer == "something new":
        asked = thing_question(section, here) if section.things else None
        asked = asked or damage_question(section, here) or new_question(section, here)
        if asked is not None:
            return asked
    for zone in here.in_full:
        asked = _in_full(zone, section.full.get(zone, {}), here)
        if asked is not None:
            return asked
    still_open = open_damage_question(section, here.open_damages)
    return damage_question(section, here) or still_open or _photo(section, here)


def _photo(section: SectionWork, here: Here) -> Asked | None:
    if not here.photo or "photo" in section.said:
        return None
    choices = (
        Choice("Camera", {}, "of this tablet"),
        Choice("No photo", {"photo": None}, "none is taken now"),
    )
    hint = FROM_THE_SAME_PLACE if here.photos_before else THE_FIRST_PHOTO
    return Asked("photo", ask="Photograph this section.", hint=hint, choices=choices)


# --- a zone in full ------------------------------------------------------------------------------


def _in_full(zone: DamageZone, said: dict[str, Any], here: Here) -> Asked | None:
    asked = (
        _worst(zone, said, here),
        _rust(zone, said, here),
        _water(zone, said),
        _scats(zone, said),
    )
    return next(filter(None, asked), None)


def _worst(zone: DamageZone, said: dict[str, Any], here: Here) -> Asked | None:
    """Ask for the worst of the parts that are left; the mildest step is said of all of them."""
    steps = severities(here)
    left = [it for it in parts_in(zone, here.demanded) if it not in said.get("severity", {})]
    if not steps or not left:
        return None
    if said.get("worst") is not None:
        return _on_which(zone, said["worst"], left)
    choices = [_step(zone, it, value, left) for value, it in enumerate(steps)]
    unknown = Choice(UNKNOWN, _full(zone, {"severity": dict.fromkeys(left)}), CANT_SEE)
    ask, hint = f"{zone.capitalize()}, in full: the worst damage?", f"Of {', '.join(left)}."
    return Asked(f"{zone} severity", ask=ask, hint=hint, choices=(*choices, unknown, CARDS))


def _step(zone: DamageZone, step: Step, value: int, left: Sequence[SupportPart]) -> Choice:
    settled = value == MILDEST or len(left) == 1
    says = {"severity": dict.fromkeys(left, step.label)} if settled else {"worst": step.label}
    return Choice(step.label, _full(zone, says), words=step.words, picture=step.picture)


def _on_which(zone: DamageZone, worst: str, left: Sequence[SupportPart]) -> Asked:
    one = [Choice(it, _full(zone, {"severity": {it: worst}, "worst": None})) for it in left]
    every = {"severity": dict.fromkeys(left, worst), "worst": None}
    choices = (Choice("all of these", _full(zone, every)), *one)
    ask, hint = f"{zone.capitalize()}: what is {worst}?", "The rest is asked next."
    return Asked(f"{zone} {worst} on", ask=ask, hint=hint, choices=choices)


def _rust(zone: DamageZone, said: dict[str, Any], here: Here) -> Asked | None:
    """Ask how rusty the steel of a zone is: all of it alike, or part by part."""
    steel = [it for it in parts_in(zone, here.demanded) if it in RUSTS]
    left = [it for it in steel if it not in said.get("grade", {})]
    if not left:
        return None
    by_part = bool(said.get("by_part"))
    of = left[:1] if by_part else left
    cards = [
        Choice(
            it.label,
            _full(zone, {"grade": dict.fromkeys(of, grade)}),
            words=it.words,
            picture=it.picture,
        )
        for grade, it in enumerate(grades(here))
    ]
    mixed = [] if by_part else [Choice("mixed", _full(zone, {"by_part": True}), "by part")]
    unknown = Choice(UNKNOWN, _full(zone, {"grade": dict.fromkeys(of)}), CANT_SEE)
    ask, hint = f"{zone.capitalize()}, in full: how rusty?", f"Of {', '.join(of)}."
    key = f"{zone} grade {' '.join(of)}"
    return Asked(key, ask=ask, hint=hint, choices=(*cards, *mixed, unknown, CARDS))


def _water(zone: DamageZone, said: dict[str, Any]) -> Asked | None:
    if "water" in said:
        return None
    dry_and_clean = _full(zone, {"water": "dry", "scats": "none", "whole": True})
    choices = [
        Choice("dry", dry_and_clean, "no scats"),
        Choice("dry", _full(zone, {"water": "dry"}), "scats"),
        *(Choice(it, _full(zone, {"water": it})) for it in get_args(Water) if it != "dry"),
    ]
    hint = "Scats: small loose rock, in the mesh or on the floor beneath."
    return Asked(
        f"{zone} water", ask=f"{zone.capitalize()}: wet?", hint=hint, choices=tuple(choices)
    )


def _scats(zone: DamageZone, said: dict[str, Any]) -> Asked | None:
    if "scats" in said:
        return None
    choices = tuple(
        Choice(it, _full(zone, {"scats": it, "whole": True})) for it in get_args(Scats)
    )
    hint = "Small loose rock, in the mesh or on the floor beneath."
    return Asked(f"{zone} scats", ask=f"{zone.capitalize()}: scats?", hint=hint, choices=choices)


def _full(zone: DamageZone, says: dict[str, Any]) -> dict[str, Any]:
    return {"zone": zone, "full": says}
