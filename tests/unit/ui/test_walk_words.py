"""What the Condition walk says: last time and this time in a few words, and who else was there."""

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal

from fieldapp.report.words.walk import month_words, seen_lines
from fieldapp.ui.walk_work import (
    SeenWords,
    begun_walk,
    end_told,
    known_lines,
    opened_walk,
    plan_lines,
    walk_page,
)
from fieldapp.work.demo.story import MAIN, READY
from fieldapp.work.events import report_event
from fieldapp.work.walk.draft import WalkTouch, keep_walk_touch, touch_of
from fieldapp.work.walk.section_work import ANEW
from fieldapp.work.walk.walks import record_walk
from schemas.bodies.walk import SectionSeen
from tests.unit.work.conftest import Shift, shift
from tests.unit.work.walk.test_section_corrosion import read, wire
from tests.unit.work.walking import FIRST, SECOND, TECHNICIAN, alone, section, walk

__all__ = ["shift"]

NEW = {
    "answer": "something new",
    "parts": [
        {
            "part": "mesh",
            "zone": "left shoulder",
            "chainage_m": "3.4",
            "severity": "S1",
            "corrosion_grade": 3,
            "bag_depth_mm": "140",
        },
        {"part": "plates", "zone": "right wall", "count": 3, "severity": "S1"},
        {"part": "bolts", "zone": "back", "severity": "S0", "corrosion_grade": 1},
    ],
    "in_full": ["back"],
    "zones": [{"zone": "back", "water": "dripping", "scats": "a few"}],
}

AT_20 = Decimal(20), Decimal(30)
AT_130 = Decimal(130), Decimal(140)


def test_what_was_seen_is_said_line_by_line_and_what_finds_no_room_is_counted() -> None:
    seen = SectionSeen.model_validate(section(from_m="0", to_m="10", **NEW))
    lines = seen_lines(seen, "metres")

    assert lines == (
        "something new",
        "mesh, left shoulder: S1, rust 3, hangs 140 mm",
        "3 plates, right wall: S1",
        "back: dripping, a few scats",
        "back in full: S0, rust 1",
    )
    assert SeenWords("Last time", lines).fitting[-1] == "something new; and 4 more"
    assert month_words("2031-05") == "May 2031"


def test_a_zone_in_full_says_its_grades_from_to_and_that_it_could_not_be_seen() -> None:
    rusty = [
        {"part": it, "zone": "back", "severity": "S0", "corrosion_grade": grade}
        for it, grade in (("mesh", 4), ("bolts", 3))
    ]
    both = section(in_full=["back", "floor"], parts=rusty)

    assert seen_lines(SectionSeen.model_validate(both), "metres")[1:] == (
        "back in full: S0, rust 3 to 4",
        "floor in full: not seen",
    )


def test_who_looked_first_had_nothing_to_compare_with() -> None:
    first = SectionSeen.model_validate(section(first_look=True))

    assert seen_lines(first, "metres") == ("no damage seen",)


def test_a_touch_on_last_time_tells_how_fast_steel_goes_too(shift: Shift) -> None:
    """Wire of 5.6 mm, 5.6 and 5.4 mm a year apart: 100 µm from each surface in that year."""
    place = shift.place(READY)
    for read_mm, days in (("5.6", 366), ("5.4", 1)):
        at = shift.clock() - timedelta(days=days)
        read(shift, wire(read_mm), at=at)
    technician = shift.who(TECHNICIAN)
    page = begun_walk(shift.site, opened_walk(shift.site, place.id).plan, AT_130, technician)
    told = known_lines(shift.site, page)

    assert told[: len(page.last.lines)] == page.last.lines
    assert any(it.startswith("loses 100") for it in told)
    assert any("ISO 9223" in it for it in told)


def test_the_second_of_two_on_one_day_is_told_before_ending(shift: Shift) -> None:
    site, place = shift.site, shift.place(MAIN)
    engineer = shift.who("Geotechnical engineer")
    page = begun_walk(site, opened_walk(site, place.id).plan, FIRST, engineer)
    assert page.work is not None
    touch = touch_of(site, engineer, FIRST, {"answer": "nothing new", "photo": None})
    page = walk_page(site, keep_walk_touch(site, page.work, touch), page.plan)
    alone = end_told(site, page, engineer.person_id).words
    record_walk(site, walk(section(from_m="0", to_m="10")), shift.who(TECHNICIAN))
    told = end_told(site, page, engineer.person_id).words

    assert alone[0] == "1 section is answered"
    assert set(told) - set(alone) == {
        f"{TECHNICIAN} looked at 1 of these sections today too: both are kept."
    }


def test_a_section_that_was_only_begun_is_named_before_ending_and_counts_as_none(
    shift: Shift,
) -> None:
    site, engineer = shift.site, shift.who("Geotechnical engineer")
    page = begun_walk(site, opened_walk(site, shift.place(MAIN).id).plan, FIRST, engineer)
    assert page.work is not None
    bolts = {"thing": {"zone": "back", "of": "part", "part": "bolts"}}
    touch = touch_of(site, engineer, FIRST, bolts)
    page = walk_page(site, keep_walk_touch(site, page.work, touch), page.plan)
    told = end_told(site, page, engineer.person_id)

    assert page.progress.startswith("0 answered")
    assert told.words[0] == "0 sections are answered"
    assert [it.place for it in told.begun] == [FIRST]
    assert told.words[1].endswith("is not answered whole: Bolts: how grave?")


def test_what_lies_on_the_floor_is_not_marked_on_the_drive(shift: Shift) -> None:
    site, technician = shift.site, shift.who(TECHNICIAN)
    page = begun_walk(site, opened_walk(site, shift.place(MAIN).id).plan, FIRST, technician)
    assert page.work is not None

    def tags(zone: str) -> list[str]:
        assert page.work is not None
        water = {"thing": {"zone": zone, "of": "zone", "about": "water", "water": "flowing"}}
        touch = touch_of(site, technician, FIRST, water)
        told = walk_page(site, replace(page.work, touches=(touch,)), page.plan)
        assert told.drawing is not None
        assert f"{zone}: flowing" in told.this.lines
        return [it.text for it in told.drawing.tags]

    assert "water" in tags("back")
    assert "water" not in tags("floor")


def test_last_time_stands_beside_this_time_and_on_the_drive(shift: Shift) -> None:
    """Rust of grade 3 is looked at every 14 days by the demo's standard: it is due again."""
    site, place, technician = shift.site, shift.place(MAIN), shift.who(TECHNICIAN)
    record_walk(site, walk(section(from_m="0", to_m="10", **NEW)), technician)
    shift.wait(days=20)
    page = begun_walk(site, opened_walk(site, place.id).plan, FIRST, technician)
    (line,) = [it for it in plan_lines(site, page) if it.place == FIRST]

    assert page.last.title == "Last time, 6 May 2031"
    assert page.last.lines[1] == "mesh, left shoulder: S1, rust 3, hangs 140 mm"
    assert page.this.lines == ("not answered yet",)
    assert page.drawing is not None
    assert "mesh S1 rust 3" in [it.text for it in page.drawing.tags]
    assert line.mark == "late"
    assert line.detail.startswith("6 days late")
    assert page.touched(Decimal("3.4"), Decimal("0.5")) == {
        "thing": {"chainage_m": "3.4", "s_m": "0.5", "zone": "back"}
    }


def test_an_answered_section_says_so_in_the_plan_and_can_be_answered_anew(shift: Shift) -> None:
    """Else a wrong answer is only reached by taking back every answer after it."""
    site, technician = shift.site, shift.who(TECHNICIAN)
    before = begun_walk(site, opened_walk(site, shift.place(MAIN).id).plan, FIRST, technician)
    assert before.work is not None
    told = [touch_of(site, technician, it, {"answer": "nothing new"}) for it in (FIRST, SECOND)]
    noted = touch_of(site, technician, FIRST, {"note": "poor light", "photo": None})
    answered = walk_page(site, replace(before.work, touches=(noted, *told)), before.plan)
    assert answered.work is not None
    anew = touch_of(site, technician, FIRST, {ANEW: True})
    again = walk_page(
        site, replace(answered.work, touches=(*answered.work.touches, anew)), before.plan
    )
    assert again.work is not None

    (line,) = [it for it in plan_lines(site, answered) if it.place == FIRST]
    assert (line.mark, line.detail) == ("answered", "answered: nothing new")
    assert not any(it.mark == "answered" for it in plan_lines(site, before))
    assert (again.is_answered(FIRST), again.is_answered(SECOND)) == (False, True)
    assert again.where.startswith("0.0"), "a touch on its line leads there"
    assert again.this.lines == ("not answered yet", "poor light")
    undone = replace(
        again.work, touches=(*again.work.touches, WalkTouch(at=site.now(), undone=True))
    )
    assert walk_page(site, undone, before.plan).is_answered(FIRST)


def test_damage_that_was_recorded_stays_with_a_section_that_is_answered_anew() -> None:
    damaged = {"thing": {"zone": "back", "of": "damage", "damage": "0" * 36}}
    told = alone(damaged, {"thing": {"zone": "back", "of": "part", "part": "mesh"}}, {ANEW: True})

    assert told.damages == ("0" * 36,)
    assert [it["of"] for it in told.things] == ["damage"]
    assert told.answer == "something new"


def test_what_is_found_at_a_first_look_is_there_and_not_new() -> None:
    first = SectionSeen.model_validate(section(answer="something new", first_look=True))

    assert seen_lines(first, "metres")[0] == "something seen"


def test_a_walk_says_where_nobody_goes_and_why(shift: Shift) -> None:
    """An event makes ground due at once, and closes it at once too: the plan leads nobody in."""
    site, place, technician = shift.site, shift.place(MAIN), shift.who(TECHNICIAN)
    before = opened_walk(site, place.id)
    report_event(site, place.id, "seismic", Decimal(95), None)
    page = opened_walk(site, place.id)
    outbye = begun_walk(site, page.plan, FIRST, technician)
    assert outbye.work is not None
    inbye = walk_page(
        site,
        replace(outbye.work, touches=(touch_of(site, technician, AT_20, {}),)),
        outbye.plan,
    )

    assert before.plan_closed == ""
    closed = "Nobody beyond 15.0 m: seismic at 95.0 m: until 21:30 UTC and an inspection."
    assert page.plan_closed == closed
    assert (outbye.closed, inbye.closed) == ("", closed)


def test_a_reading_is_marked_on_the_drive_with_what_was_read(shift: Shift) -> None:
    site, technician = shift.site, shift.who(TECHNICIAN)
    steel = {"steel": [{**wire("5.2"), "chainage_m": "3.4"}]}
    record_walk(site, walk(section(from_m="0", to_m="10", **steel)), technician)
    shift.wait(days=40)
    page = begun_walk(site, opened_walk(site, shift.place(MAIN).id).plan, FIRST, technician)
    assert page.work is not None
    things = (
        {"zone": "left wall", "of": "distance", "station": "CV-7"},
        {"zone": "back", "of": "steel", "steel": "wire", "part": "mesh", "read_mm": "5.1"},
    )
    touches = tuple(touch_of(site, technician, FIRST, {"thing": it}) for it in things)
    told = walk_page(site, replace(page.work, touches=touches), page.plan)

    assert told.drawing is not None
    assert [it.text for it in told.drawing.tags] == ["wire 5.1", "CV-7", "wire 5.2"]


def test_a_row_of_the_plan_counts_the_reasons_that_find_no_room_and_a_card_has_them_all(
    shift: Shift,
) -> None:
    """Seen rusty, read thin, late and shaken: a row that is cut says nothing of the last."""
    site, place, technician = shift.site, shift.place(MAIN), shift.who(TECHNICIAN)
    thin = {"steel": [{**wire("4.9"), "chainage_m": "3.4"}]}
    record_walk(site, walk(section(from_m="0", to_m="10", **NEW | thin)), technician)
    shift.wait(days=20)
    report_event(site, place.id, "seismic", Decimal(20), None)
    page = begun_walk(site, opened_walk(site, place.id).plan, FIRST, technician)
    (line,) = [it for it in plan_lines(site, page) if it.place == FIRST]

    assert "rust of grade 3" not in line.detail
    assert line.detail.endswith("and 1 more; photo")
    assert known_lines(site, page)[-1].endswith("every 14 days: rust of grade 3")
