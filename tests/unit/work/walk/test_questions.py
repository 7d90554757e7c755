"""What is asked of a section: one answer mostly, and everything of what was drawn in full."""

import sys
from collections.abc import Mapping
from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest

from fieldapp.assess.walk import zones_in_full
from fieldapp.work.asked import Asked, Digits
from fieldapp.work.walk.open_damage import OpenDamage
from fieldapp.work.walk.questions import (
    FROM_THE_SAME_PLACE,
    THE_FIRST_PHOTO,
    section_question,
)
from fieldapp.work.walk.readings import Station
from fieldapp.work.walk.section_work import SectionWork
from fieldapp.work.walk.steel_questions import originals_mm
from fieldapp.work.walk.things import Here
from schemas.bodies.damage import DamageZone
from schemas.standard import BoltType
from tests.unit.work.conftest import Shift
from tests.unit.work.walking import alone, here

PLATES = {"zone": "right wall", "chainage_m": "3.4", "s_m": "3.1", "of": "part", "part": "plates"}


def answered(section: SectionWork, known: Here, *labels: str) -> tuple[SectionWork, Asked | None]:
    """Touch one chip after the other, and give what is asked then."""
    for label in labels:
        asked = section_question(section, known)
        assert asked is not None
        says = next(it.says for it in asked.choices if it.label == label)
        section = alone(says) if section.at is None else section.told(says, section.at)
    return section, section_question(section, known)


def typed(section: SectionWork, known: Here, value: str) -> SectionWork:
    asked = section_question(section, known)
    assert asked is not None
    assert isinstance(asked.digits, Digits)
    assert section.at is not None
    return section.told(asked.digits.says(Decimal(value)), section.at)


def test_most_sections_take_one_answer_and_none_is_given_beforehand(shift: Shift) -> None:
    known = here(shift)
    asked = section_question(alone(), known)
    section, after = answered(alone(), known, "Nothing new")

    assert asked is not None
    assert [it.label for it in asked.choices] == ["Nothing new", "Something new", "Not reached"]
    assert alone().seen is None
    assert after is None
    assert section.seen is not None
    assert section.seen.answer == "nothing new"


def test_a_first_look_compares_with_nothing_and_says_what_is_there(shift: Shift) -> None:
    known = replace(here(shift), first_look=True)
    asked = section_question(alone(), known)
    section, after = answered(alone(), known, "No damage")

    assert asked is not None
    assert asked.ask == "What is there?"
    assert [it.label for it in asked.choices] == ["No damage", "Something", "Not reached"]
    assert after is None, "it takes one touch too"
    assert section.seen is not None
    assert section.seen.first_look
    section, _ = answered(alone(), known, "Something")
    assert section.said["first_look"], "nothing is new then"


def test_what_could_not_be_reached_says_why_and_is_asked_nothing_else(shift: Shift) -> None:
    section, after = answered(alone(), here(shift, "back", photo=True), "Not reached", "no light")

    assert after is None
    assert section.seen is not None
    assert section.seen.not_reached == "no light"
    assert section.seen.in_full == ()


def test_a_zone_in_full_takes_three_touches_where_all_of_it_is_sound(shift: Shift) -> None:
    section, after = answered(alone(), here(shift, "back"), "Nothing new", "S0", "0", "dry")

    assert after is None
    seen = section.seen
    assert seen is not None
    assert seen.in_full == ("back",)
    assert {it.part: it.severity for it in seen.parts} == dict.fromkeys(
        ("bolts", "plates", "mesh", "laps", "rock"), "S0"
    )
    assert {it.part for it in seen.parts if it.corrosion_grade == 0} == {"bolts", "plates", "mesh"}
    assert [(it.water, it.scats) for it in seen.zones] == [("dry", "none")]


def test_of_a_zone_in_full_every_part_is_told_apart(shift: Shift) -> None:
    known = here(shift, "back")
    grave = ("Nothing new", "S1", "mesh", "S1", "plates", "S0")
    section, after = answered(alone(), known, *grave, "mixed", "2", "3", "3", "damp", "a few")

    assert after is None
    seen = section.seen
    assert seen is not None
    found = {it.part: (it.severity, it.corrosion_grade) for it in seen.parts}
    assert found == {
        "bolts": ("S0", 2),
        "plates": ("S1", 3),
        "mesh": ("S1", 3),
        "laps": ("S0", None),
        "rock": ("S0", None),
    }
    assert [(it.water, it.scats) for it in seen.zones] == [("damp", "a few")]


def test_steel_that_is_equally_rusty_takes_one_touch(shift: Shift) -> None:
    section, asked = answered(alone(), here(shift, "back"), "Nothing new", "S0", "2")

    assert asked is not None
    assert asked.key == "back water"
    assert section.full["back"]["grade"] == {"bolts": 2, "plates": 2, "mesh": 2}


def test_a_zone_that_was_not_told_to_the_end_is_not_in_full(shift: Shift) -> None:
    section, after = answered(alone(), here(shift, "back"), "Nothing new", "S0", "0")

    assert after is not None
    assert section.seen is not None
    assert section.seen.in_full == ()


def test_what_cant_be_seen_of_a_zone_stays_unknown(shift: Shift) -> None:
    section, after = answered(alone(), here(shift, "back"), "Nothing new", "?", "?", "dry")

    assert after is None
    assert section.seen is not None
    assert section.seen.parts == ()
    assert section.seen.in_full == ("back",)


def test_something_new_is_told_where_what_how_grave_how_rusty_and_how_many(shift: Shift) -> None:
    known = here(shift)
    place = {"zone": "right wall", "chainage_m": "3.4", "s_m": "3.1"}
    touches = ("plates", "S1", "3", "5", "Nothing else")
    section, after = answered(alone({"thing": place}), known, *touches)

    assert after is None
    assert section.seen is not None
    assert section.seen.answer == "something new", "a touch on the drive says so"
    (part,) = section.seen.parts
    assert (part.part, part.zone, str(part.chainage_m), str(part.s_m)) == (
        "plates",
        "right wall",
        "3.4",
        "3.1",
    )
    assert (part.severity, part.corrosion_grade, part.count) == ("S1", 3, 5)


def test_of_the_floor_nothing_is_asked_that_is_put_up(shift: Shift) -> None:
    known = here(shift, "floor")
    _, asked = answered(alone({"thing": {}}), known, "floor")
    section, after = answered(alone(), known, "Nothing new", "S0", "dry")

    assert asked is not None
    assert [it.label for it in asked.choices] == ["scats", "water", "rock", "station"]
    assert after is None
    assert section.seen is not None
    assert [(it.part, it.zone) for it in section.seen.parts] == [("rock", "floor")]


def test_how_far_mesh_hangs_is_asked_of_mesh_alone(shift: Shift) -> None:
    known = here(shift)
    told = ("back", "mesh", "S1", "1")
    section, asked = answered(alone({"thing": {}}), known, *told)

    assert asked is not None
    assert asked.key == "bag_depth_mm"
    section = typed(section, known, "140")
    assert section.seen is not None
    assert str(section.seen.parts[0].bag_depth_mm) == "140"


def test_several_things_are_new_in_one_section(shift: Shift) -> None:
    first = ("left wall", "rock", "S1", "Another")
    section, after = answered(
        alone({"thing": {}}), here(shift), *first, "back", "water", "flowing", "Nothing else"
    )

    assert after is None
    assert section.seen is not None
    assert [it.part for it in section.seen.parts] == ["rock"]
    assert [(it.zone, it.water) for it in section.seen.zones] == [("back", "flowing")]


def test_what_holds_entry_by_the_standard_asks_for_damage_at_once(shift: Shift) -> None:
    known = here(shift, "back")
    grave = alone({"thing": {**PLATES, "severity": "S4", "corrosion_grade": 1, "count": 3}})
    mild = alone({"thing": {**PLATES, "severity": "S1", "corrosion_grade": 1, "count": 3}})

    assert key(grave, known) == "damage right wall"
    assert key(mild, known) == "done"
    _, asked = answered(alone(), known, "Nothing new", "S4", "mesh", "S0", "0", "dry")
    assert asked is not None
    assert asked.key == "damage back", "also in a zone that was drawn to be told in full"


def key(section: SectionWork, known: Here) -> str | None:
    asked = section_question(section, known)
    return asked.key if asked else None


@pytest.mark.parametrize(("zones", "photo"), [((), False), (("back",), True)])
def test_a_card_has_a_picture_and_the_standard_s_words_for_each_step(
    shift: Shift, zones: tuple[DamageZone, ...], *, photo: bool
) -> None:
    known = here(shift, *zones, photo=photo)
    thing: Mapping[str, Any] = {"zone": "back", "of": "part", "part": "bolts"}
    _, grave = answered(alone({"thing": dict(thing)}), known)
    _, rusty = answered(alone({"thing": {**thing, "severity": "S1"}}), known)

    for asked, of in ((grave, "damage"), (rusty, "rust")):
        assert asked is not None
        steps = [it for it in asked.choices if it.picture]
        assert [it.picture.step for it in steps if it.picture] == [0, 1, 2, 3, 4, 5]
        assert {it.picture.of for it in steps if it.picture} == {of}
        assert all(it.words for it in steps)


def test_the_original_is_asked_for_only_where_the_standard_does_not_know_it(
    shift: Shift,
) -> None:
    known = here(shift)
    steel = {"zone": "back", "chainage_m": "3.4", "of": "steel"}
    wire, after_wire = answered(alone({"thing": dict(steel)}), known, "wire")
    bar, after_bar = answered(alone({"thing": dict(steel)}), known, "bar")
    _, tube = answered(alone({"thing": dict(steel)}), known, "tube")

    assert [it.key for it in (after_wire, after_bar, tube) if it] == ["how", "how", "original_mm"]
    assert [it.things[0]["original_mm"] for it in (wire, bar)] == ["5.6", "20"]


def test_where_a_class_has_two_bars_somebody_says_which(shift: Shift) -> None:
    known = here(shift)
    assert known.demanded is not None
    thin = known.demanded.bolts[0]
    thick = thin.model_copy(update={"code": "RB27", "bar_mm": Decimal(27)})
    nobody_said = thin.model_copy(update={"code": "RB", "bar_mm": None})

    def of(*bolts: BoltType) -> tuple[Decimal, ...]:
        assert known.demanded is not None
        return originals_mm("bar", known.demanded.model_copy(update={"bolts": bolts}))

    assert list(map(str, of(thin, thick))) == ["27", "20"]
    assert of(thin, nobody_said) == ()


def test_a_photo_is_asked_for_where_it_is_due_and_may_be_left(shift: Shift) -> None:
    known = here(shift, photo=True)
    section, asked = answered(alone(), known, "Nothing new")
    _, after = answered(section, known, "No photo")

    assert asked is not None
    assert asked.key == "photo"
    assert asked.hint == THE_FIRST_PHOTO
    again = section_question(section, replace(known, photos_before=("0" * 36,)))
    assert again is not None
    assert again.hint == FROM_THE_SAME_PLACE
    assert after is None


def test_a_distance_stands_beside_its_last_reading(shift: Shift) -> None:
    last = Station("CV-7", "walls", Decimal("3.4"), "4962 mm, 4 May 2031", Decimal(4962))
    known = replace(here(shift), stations=(last,))
    thing = {"zone": "left wall", "of": "distance"}
    section, asked = answered(alone({"thing": thing}), known, "CV-7", "tape")
    slipped = typed(section, known, "4598")
    doubted = section_question(slipped, known)
    _, again = answered(slipped, known, "Read again")
    section = typed(section, known, "4958")

    assert doubted is not None
    assert doubted.hint == "It is 364 mm less than last time, 4962 mm."
    assert again is not None
    assert again.key == "read_mm"
    assert asked is not None
    assert asked.hint == "Last: 4962 mm, 4 May 2031."
    assert section.seen is not None
    (read,) = section.seen.distances
    assert (read.station, str(read.chainage_m), str(read.read_mm)) == ("CV-7", "3.4", "4958")
    assert str(read.u_mm) == "10", "of a tape, by the standard"


TORN = OpenDamage("0" * 32, "torn mesh", "back", Decimal("3.4"), Decimal("3.4"))
SNAPPED = OpenDamage("1" * 32, "bolt broken", "left wall", Decimal("5.0"), Decimal("5.0"))


def stood(section: SectionWork) -> list[tuple[str, str]]:
    assert section.seen is not None
    return [(it.damage[0], it.said) for it in section.seen.open_damage]


@pytest.mark.parametrize("in_full", [(), ("back",)])
def test_where_damage_is_open_one_touch_more_says_how_it_stands(
    shift: Shift, in_full: tuple[DamageZone, ...]
) -> None:
    """A zone without damage, or nothing new, beside open damage is a contradiction by itself."""
    known = replace(here(shift, *in_full), open_damages=(TORN,))
    usual = ("Nothing new", *(("S0", "1", "dry") if in_full else ()))
    section, asked = answered(alone(), known, *usual)
    assert asked is not None
    section, after = answered(section, known, "as it was")

    assert asked.ask == "Open damage: torn mesh. Still so?"
    assert asked.hint.startswith("torn mesh at 3.4 m, back")
    assert [it.label for it in asked.choices] == ["as it was", "worse", "repaired", "not seen"]
    assert (after, stood(section)) == (None, [("0", "as it was")])


def test_what_is_worse_is_something_new_and_recorded_on_the_spot_as_seen_again(
    shift: Shift,
) -> None:
    known = replace(here(shift), open_damages=(TORN,))
    section, asked = answered(alone(), known, "Nothing new", "worse")

    assert asked is not None
    assert [it.label for it in asked.choices] == ["Record damage"]
    assert section.answer == "something new"
    assert (section.things[-1]["again"], stood(section)) == (TORN.id, [("0", "worse")])


def test_several_that_are_as_they_were_take_one_touch_and_else_are_asked_one_by_one(
    shift: Shift,
) -> None:
    known = replace(here(shift), open_damages=(TORN, SNAPPED))
    alike, after = answered(alone(), known, "Nothing new", "all as it was")
    apart, asked = answered(alone(), known, "Nothing new", "one by one", "repaired", "not seen")

    assert (after, asked) == (None, None)
    assert stood(alike) == [("0", "as it was"), ("1", "as it was")]
    assert stood(apart) == [("0", "repaired"), ("1", "not seen")]


def test_where_nobody_got_to_nothing_is_said_of_open_damage(shift: Shift) -> None:
    known = replace(here(shift), open_damages=(TORN,))
    section, after = answered(alone(), known, "Not reached", "no light")

    assert (after, stood(section)) == (None, [])


MOST_TOUCHES = 250
TO_THE_FIRST_SECTION = ("Report", "4180 Main", "Condition walk", "Begin the walk")
TO_THE_END = ("End walk", "End the walk")
SECTIONS = 120
NEW_AT = (7, 31, 58, 83, 110)


def test_a_walk_of_120_sections_with_five_exceptions_takes_at_most_250_touches(
    shift: Shift, capsys: pytest.CaptureFixture[str]
) -> None:
    """Zones as the month draws them, all a little rusty; a key for each photo that is due."""
    drawn = zones_in_full(range(SECTIONS), 2, "a month")
    touches = len(TO_THE_FIRST_SECTION) + len(TO_THE_END)
    for number in range(SECTIONS):
        known = here(shift, *drawn.get(number, ()), photo=number % 5 == 0)
        section, asked = alone(), section_question(alone(), known)
        if number in NEW_AT:
            section = alone({"thing": {"zone": "right wall", "chainage_m": "3.4", "s_m": "3"}})
            touches += 1
        while (asked := section_question(section, known)) is not None:
            wanted = next(it for label in USUAL for it in asked.choices if it.label == label)
            says = wanted.says or {"photo": "0" * 36}
            section = alone(says) if section.at is None else section.told(says, section.at)
            touches += 1
        assert section.seen is not None
        assert set(section.seen.in_full) == set(drawn.get(number, ()))

    with capsys.disabled():
        sys.stdout.write(f"\n{touches} touches\n")
    assert touches <= MOST_TOUCHES


USUAL = ("Nothing new", "plates", "Nothing else", "Camera", "3", "dry", "S0", "1")
