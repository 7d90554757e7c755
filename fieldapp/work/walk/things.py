"""What is asked of something new on a walk: where, what, how grave, how many.

What is too grave by the standard is recorded as damage on the spot, or the section is not done.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import chain
from typing import Any, Final, get_args

from fieldapp.assess.damage import Observation, priority
from fieldapp.work.asked import CARDS, UNKNOWN, Asked, Choice, Digits, Picture, whole_number
from fieldapp.work.walk.grave import Grave, graves, holds_as_much, thin_words, thin_zones
from fieldapp.work.walk.open_damage import OpenDamage
from fieldapp.work.walk.readings import Station, distance_questions
from fieldapp.work.walk.section_work import OF, SectionWork
from fieldapp.work.walk.steel_before import SteelBefore
from fieldapp.work.walk.steel_questions import steel_questions
from schemas.bodies.damage import Damage, DamageZone
from schemas.bodies.walk import Scats, SectionSeen, SteelRead, SupportPart, Water
from schemas.numbers import text
from schemas.rehab_rules import Holds
from schemas.standard import Standard, SupportClass

RUSTS: Final[tuple[SupportPart, ...]] = ("bolts", "plates", "mesh", "straps")
COUNTED: Final[tuple[SupportPart, ...]] = ("bolts", "plates", "straps", "laps")
COUNTS: Final = (1, 2, 3, 5)
DEPTHS_MM: Final = (50, 100, 200, 300)
CANT_SEE: Final = "not seen"
GRADES: Final = 6
BECAUSE_OF: Final = "because_of"
"""What a thing that is damage was recorded for."""
ANOTHER: Final = Choice("Another", {"thing": {}}, "or touch the drive")
WATER: Final = Choice("water", {"more": {"of": "zone", "about": "water"}})
SCATS: Final = Choice("scats", {"more": {"of": "zone", "about": "scats"}}, "small loose rock")
STATION: Final = Choice("station", {"more": {"of": "distance"}}, "read a distance or crack")
NOTHING_ELSE: Final = Choice("Nothing else", {"done": True}, "new here")


@dataclass(frozen=True)
class Step:
    """One step of a card of the standard."""

    label: str
    words: str
    picture: Picture


@dataclass(frozen=True)
class Here:
    """What is known of a section before anything is asked of it."""

    standard: Standard | None
    demanded: SupportClass | None
    exposure: str | None
    """How much people are beneath the heading, by the standard's own list."""
    in_full: tuple[DamageZone, ...] = ()
    photo: bool = False
    first_look: bool = False
    """Whether nobody looked at all of it before."""
    stations: tuple[Station, ...] = ()
    """Where distances were read before, near here."""
    steel: tuple[SteelBefore, ...] = ()
    """What was read of its steel before, the newest first."""
    photos_before: tuple[str, ...] = ()
    """Ids of the photos that were taken of it from its place, the newest first."""
    damages: Mapping[str, Damage] | None = None
    """Damage that is kept."""
    open_damages: tuple[OpenDamage, ...] = ()
    """Damage of this section that was known before the walk and is not repaired."""

    def graves(self, seen: SectionSeen) -> tuple[Grave, ...]:
        """Give what holds entry by the standard, the gravest first."""
        return graves(seen, self.standard, self.demanded, self.exposure)

    def holds(self, damage: Damage) -> Holds:
        """Tell what entry is beneath damage, as beneath what is grave on the walk."""
        alike = damage.model_copy(update={"exposure": self.exposure})
        seen = Observation("seen", alike)
        return priority([seen], self.standard, self.demanded, damage.seen_at).holds


def thing_question(section: SectionWork, here: Here) -> Asked | None:
    """Give what is asked next of what was found new last; None once it is told."""
    thing = section.things[-1]
    asked = _questions(thing, here, section)
    return next((it for it in asked if it.key not in thing), None)


def severities(here: Here) -> tuple[Step, ...]:
    """Give the standard's card of damage, from mild to grave."""
    known = here.standard.severities if here.standard else ()
    return tuple(
        Step(it.code, it.words, Picture("damage", step, len(known)))
        for step, it in enumerate(known)
    )


def grades(here: Here) -> tuple[Step, ...]:
    """Give the standard's card of rust, from as new on; plain grades where it has no words."""
    known = here.standard.corrosion.grades if here.standard else ()
    by_grade = {it.grade: f"{it.words}; {it.cue}" for it in known}
    return tuple(
        Step(str(it), by_grade.get(it, ""), Picture("rust", it, GRADES)) for it in range(GRADES)
    )


def new_question(section: SectionWork, here: Here) -> Asked | None:
    """Ask whether anything else is there or new; None once nothing is."""
    if section.said.get("done"):
        return None
    if here.first_look:
        ask, hint = "Is any other damage here?", "Touch the drive where something else is."
        nothing_else = replace(NOTHING_ELSE, note="is damaged here")
        return Asked("done", ask=ask, hint=hint, choices=(nothing_else, ANOTHER))
    ask, hint = "Is anything else new here?", "Touch the drive where something else is new."
    return Asked("done", ask=ask, hint=hint, choices=(NOTHING_ELSE, ANOTHER))


@dataclass(frozen=True)
class Wanted:
    """Damage that is to be recorded on the spot."""

    zone: DamageZone
    nth: int | None
    """Which of the things new it is; None: something told otherwise holds entry there."""
    because: str
    thin: SteelRead | None = None
    """The reading that leaves too little, where it is for that."""
    grave: Grave | None = None
    """The part that holds entry, where it is for that."""


def damage_wanted(section: SectionWork, here: Here) -> Wanted | None:
    """Give the damage that is to be recorded next: a hole, or what is too grave."""
    kept = here.damages or {}
    begun = [(nth, it) for nth, it in enumerate(section.things) if it.get(OF) == "damage"]
    for nth, it in begun:
        if it.get("damage") not in kept:
            return Wanted(it["zone"], nth, "Begun here, and not kept yet.")
    seen = section.seen
    recorded = {kept[it["damage"]].zone for _nth, it in begun}
    because = "By the standard it holds entry. As damage it does so at once, not after the walk."
    held = (Wanted(it.part.zone, None, because, grave=it) for it in graves_left(section, here))
    thin = thin_zones(seen, here.standard) if seen is not None else {}
    too_thin = (Wanted(it, None, _too_thin(read), read) for it, read in thin.items())
    thin_left = (it for it in too_thin if it.zone not in recorded)
    return next(chain(held, thin_left), None)


def graves_left(section: SectionWork, here: Here) -> tuple[Grave, ...]:
    """Give what holds entry and is not recorded as damage, the gravest first.

    One damage stands for one place: what was recorded of a plate must not hide the mesh that
    nobody may be beneath, some metres outbye in the same zone.
    """
    seen = section.seen
    found = here.graves(seen) if seen is not None else ()
    return tuple(it for it in found if not _is_recorded(it, section, here))


def _is_recorded(grave: Grave, section: SectionWork, here: Here) -> bool:
    for thing in section.things:
        damage = (here.damages or {}).get(thing.get("damage", ""))
        if damage is None or damage.zone != grave.part.zone:
            continue
        because: Mapping[str, Any] | None = thing.get(BECAUSE_OF)
        if because in (because_of(grave), because_of(grave._replace(holds="no entry"))):
            return True
        if grave.part.chainage_m is None and holds_as_much(here.holds(damage), grave):
            return True
    return False


def because_of(grave: Grave) -> Mapping[str, Any]:
    """Give what a damage is recorded for, as it is kept beside it: where, and what it holds."""
    at_m = grave.part.chainage_m
    return {"chainage_m": None if at_m is None else text(at_m), "holds": grave.holds}


def _too_thin(read: SteelRead) -> str:
    return f"{thin_words(read).capitalize()} by the standard."


def damage_question(section: SectionWork, here: Here) -> Asked | None:
    """Ask for damage to be recorded on the spot; None where none is wanted."""
    wanted = damage_wanted(section, here)
    if wanted is None:
        return None
    record = Choice("Record damage", {}, wanted.zone)
    ask = "Record it as damage now."
    return Asked(f"damage {wanted.zone}", ask=ask, hint=wanted.because, choices=(record,))


def _questions(thing: dict[str, Any], here: Here, section: SectionWork) -> Iterator[Asked]:
    zones = tuple(Choice(it, {"more": {"zone": it}}) for it in get_args(DamageZone)[:-1])
    hint = "Touch the place on the drive, or the part of it here. Looking toward the face."
    yield Asked("zone", ask="Where is it?", hint=hint, choices=zones)
    yield _what(thing.get("zone"), here)
    if thing.get(OF) == "part":
        yield from _of_part(thing["part"], here)
    elif thing.get(OF) == "zone":
        yield from _of_zone(thing["about"])
    elif thing.get(OF) == "steel":
        yield from steel_questions(thing, here.demanded, here.standard, here.steel, section.place)
    elif thing.get(OF) == "distance":
        yield from distance_questions(thing, here.stations, here.standard, section.place)


def _what(zone: DamageZone | None, here: Here) -> Asked:
    """Ask what it is, what is found most often first; nothing is put up on the floor."""
    hint = "What is damaged, loose, rusted or wet."
    if not here.first_look:
        hint = "What is worse than last time, or was not there then."
    if zone == "floor":
        of_the_floor = (SCATS, WATER, Choice("rock", _more(of="part", part="rock")), STATION)
        return Asked(OF, ask="What is it?", hint=hint, choices=of_the_floor)
    parts: tuple[SupportPart, ...] = ("mesh", "bolts", "plates", "rock")
    rarer: tuple[SupportPart, ...] = ("laps", "shotcrete", "straps")
    choices = (
        *(Choice(it, _more(of="part", part=it)) for it in parts),
        Choice("hole or tear", _more(of="damage"), "is damage"),
        WATER,
        *(Choice(it, _more(of="part", part=it)) for it in rarer),
        SCATS,
        Choice("steel", _more(of="steel"), "read its thickness"),
        STATION,
    )
    return Asked(OF, ask="What is it?", hint=hint, choices=choices)


def _of_part(part: SupportPart, here: Here) -> Iterator[Asked]:
    steps = severities(here)
    if steps:
        cards = tuple(
            Choice(it.label, _more(severity=it.label), words=it.words, picture=it.picture)
            for it in steps
        )
        yield _card("severity", f"{part.capitalize()}: how grave?", cards, here)
    if part in RUSTS:
        cards = tuple(
            Choice(it.label, _more(corrosion_grade=grade), words=it.words, picture=it.picture)
            for grade, it in enumerate(grades(here))
        )
        yield _card("corrosion_grade", f"{part.capitalize()}: how rusty?", cards, here)
    if part == "mesh":
        yield _depth()
    if part in COUNTED:
        yield _count(part)


def _card(key: str, ask: str, cards: tuple[Choice, ...], here: Here) -> Asked:
    hint = f"By the card of {here.standard.name}." if here.standard else ""
    unknown = Choice(UNKNOWN, _more(**{key: None}), CANT_SEE)
    return Asked(key, ask=ask, hint=hint, choices=(*cards, unknown, CARDS))


def _depth() -> Asked:
    choices = (
        Choice("tight", _more(bag_depth_mm=None), "hangs nowhere"),
        *(Choice(str(it), _more(bag_depth_mm=str(it)), "mm") for it in DEPTHS_MM),
    )
    digits = Digits("mm", "below the rock", "20000", lambda typed: _more(bag_depth_mm=text(typed)))
    ask, hint = "How far does the mesh hang below the rock?", "Judged by eye."
    return Asked("bag_depth_mm", ask=ask, hint=hint, choices=choices, digits=digits)


def _count(part: SupportPart) -> Asked:
    choices = (
        *(Choice(str(it), _more(count=it)) for it in COUNTS),
        Choice(UNKNOWN, _more(count=None), "not counted"),
    )
    digits = whole_number("", "in this section", "2000", lambda it: _more(count=it), "1")
    hint = "As many as you see in this section."
    return Asked(
        "count", ask=f"How many {part} are so?", hint=hint, choices=choices, digits=digits
    )


def _of_zone(about: str) -> Iterator[Asked]:
    words: Mapping[str, tuple[str, tuple[str, ...]]] = {
        "water": ("How wet is it?", get_args(Water)),
        "scats": ("How much small loose rock?", get_args(Scats)),
    }
    ask, known = words[about]
    choices = tuple(Choice(it, _more(**{about: it})) for it in known)
    yield Asked(about, ask=ask, hint="As it is now.", choices=choices)


def _more(**says: Any) -> dict[str, Any]:
    return {"more": says}
