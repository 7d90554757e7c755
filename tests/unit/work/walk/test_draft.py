"""A walk half done is on the disk, counts as nothing, and comes back at the same section."""

from decimal import Decimal
from typing import Any

import pytest

from fieldapp.assess.damage.priority import UNDECIDED
from fieldapp.work.damage.draft import begun_damage, keep_damage, let_go
from fieldapp.work.damage.stating import damages, record_damage
from fieldapp.work.demo.story import MAIN, READY
from fieldapp.work.rounds import open_rounds
from fieldapp.work.walk.damage_on_the_spot import begin_damage_of_walk
from fieldapp.work.walk.draft import (
    begin_walk,
    begun_walks,
    let_walk_go,
    open_walk,
    undo_walk,
)
from fieldapp.work.walk.end import begun_only, end_walk, walked
from fieldapp.work.walk.walks import GraveNotRecorded, walks
from schemas.bodies.damage import Damage
from tests.unit.work.conftest import Shift
from tests.unit.work.walking import FIRST, SECOND, TECHNICIAN, begun, now, plan_of, told, touched

BROKEN = {"of": "part", "part": "bolts", "zone": "back", "chainage_m": "12.5"}


def test_what_was_touched_before_the_power_was_cut_is_there_at_the_same_section(
    shift: Shift,
) -> None:
    work = touched(shift, begun(shift), "No damage", "No photo", "Not reached")
    before = now(shift, work)
    shift.reopened()
    work = begun(shift)

    assert now(shift, work).at == before.at
    assert before.at is not None
    assert before.at.section.from_m == SECOND[0]
    assert now(shift, work).asked == before.asked


def test_it_goes_on_along_the_drive_from_the_section_that_a_person_went_to(shift: Shift) -> None:
    places = sorted((it.section.from_m, it.section.to_m) for it in plan_of(shift).sections)
    work = told(shift, begun(shift), places[7], {})
    work = touched(shift, work, "Not reached", "water")
    after = now(shift, work).at

    assert after is not None
    assert after.section.from_m == places[8][0]
    for place in places[8:]:
        work = told(shift, work, place, {"answer": "not reached", "not_reached": "water"})
    back = now(shift, work).at
    assert back is not None
    assert back.section.from_m == places[0][0], "what was passed over is walked at the end"


def test_undo_goes_back_through_all_of_it_and_to_the_section(shift: Shift) -> None:
    work = touched(shift, begun(shift), "No damage", "No photo", "No damage")
    work = undo_walk(shift.site, work, None)
    at = now(shift, work).at

    assert at is not None
    assert at.section.from_m == SECOND[0]
    for _touch in range(2):
        work = undo_walk(shift.site, work, None)
    assert (work.can_undo, work.sections) == (False, {})
    assert undo_walk(shift.site, work, None) == work


def test_nothing_counts_before_it_is_ended_and_what_is_not_answered_stays_due(
    shift: Shift,
) -> None:
    due = len(plan_of(shift).sections)
    work = touched(shift, begun(shift), "No damage", "No photo", "No damage")

    assert walks(shift.site, shift.place(MAIN).id) == ()
    kept = end_walk(shift.site, work, plan_of(shift), shift.who(TECHNICIAN))
    assert [it.from_m for it in kept.body.sections] == [FIRST[0], SECOND[0]]
    assert kept.id == work.walk_id, "its photos name it already"
    assert open_walk(shift.site, shift.place(MAIN).id) is None
    assert len(plan_of(shift).sections) == due - 2


BOLTS = {"thing": {"zone": "back", "of": "part", "part": "bolts"}}
BAR = {"zone": "back", "chainage_m": "13.4", "of": "steel", "steel": "bar", "part": "bolts"}


def test_a_section_that_is_answered_by_half_is_kept_with_what_it_lacks_and_stays_due(
    shift: Shift,
) -> None:
    due = len(plan_of(shift).sections)
    work = told(shift, begun(shift), FIRST, BOLTS)
    work = told(shift, work, SECOND, {"thing": {**BAR, "original_mm": "20"}})
    begun_there = begun_only(shift.site, work, plan_of(shift))
    first, second = end_walk(shift.site, work, plan_of(shift), shift.who(TECHNICIAN)).body.sections
    planned = {it.section.from_m: it for it in plan_of(shift).sections}

    assert [it.place for it in begun_there] == [FIRST, SECOND]
    assert first.unanswered == ("Bolts: how grave?",)
    assert [(it.part, it.zone) for it in first.parts] == [("bolts", "back")]
    assert second.unanswered == ("How is it read?", "bar, back, 13.4 m")
    assert len(planned) == due
    assert "only begun on 6 May 2031: Bolts: how grave?" in planned[FIRST[0]].why


def test_a_zone_that_was_drawn_and_not_told_leaves_its_section_due(shift: Shift) -> None:
    drawn = next(it for it in plan_of(shift).sections if it.in_full and not it.photo)
    place = drawn.section.from_m, drawn.section.to_m
    work = told(shift, begun(shift), place, {"answer": "nothing new"})
    (kept,) = end_walk(shift.site, work, plan_of(shift), shift.who(TECHNICIAN)).body.sections

    assert kept.unanswered == (f"{drawn.in_full[0].capitalize()}, in full: the worst damage?",)
    assert drawn.section in [it.section for it in plan_of(shift).sections]


def test_what_was_noted_of_a_section_without_an_answer_is_noted_of_the_walk(shift: Shift) -> None:
    work = told(shift, begun(shift), FIRST, {"answer": "not reached", "not_reached": "water"})
    work = told(shift, work, SECOND, {"note": "poor light"})

    assert [it.place for it in begun_only(shift.site, work, plan_of(shift))] == [SECOND]
    kept = end_walk(shift.site, work, plan_of(shift), shift.who(TECHNICIAN))
    assert kept.body.note == "10 to 20 m: poor light"


def test_what_is_new_is_asked_only_where_somebody_looked_at_all_of_it_before(
    shift: Shift,
) -> None:
    first = now(shift, told(shift, begun(shift), FIRST, {})).asked
    done = told(shift, begun(shift), FIRST, {"answer": "nothing new", "photo": None})
    end_walk(shift.site, done, plan_of(shift), shift.who(TECHNICIAN))
    shift.wait(days=40)
    again = now(shift, told(shift, begun(shift), FIRST, {})).asked

    assert first is not None
    assert again is not None
    assert (first.ask, again.ask) == ("What is there?", "What is new since last time?")


def test_a_walk_is_no_round_and_of_one_heading(shift: Shift) -> None:
    before = open_rounds(shift.site)
    work = begun(shift)
    other = begin_walk(shift.site, shift.place(READY).id, shift.who(TECHNICIAN))

    assert open_rounds(shift.site) == before
    assert begun_walks(shift.site) == (work, other)
    assert begun(shift) == work


def test_a_walk_with_no_section_answered_is_none(shift: Shift) -> None:
    work = told(shift, begun(shift), SECOND, {})

    assert walked(shift.site, work, plan_of(shift)) is None
    let_walk_go(shift.site, work)
    assert begun_walks(shift.site) == ()


def test_a_hole_is_recorded_as_damage_on_the_spot_and_its_id_goes_into_the_section(
    shift: Shift,
) -> None:
    place = {"zone": "back", "chainage_m": "13.4", "s_m": "0.5"}
    work = told(shift, begun(shift), SECOND, {"thing": place}, {"more": {"of": "damage"}})
    asked = now(shift, work).asked
    damage_id = begin_damage_of_walk(shift.site, now(shift, work), shift.who(TECHNICIAN))
    begun_one = begun_damage(shift.site, damage_id)
    shift.reopened()

    assert asked is not None
    assert asked.ask == "Record it as damage now."
    assert begun_one.said == place
    still = now(shift, begun(shift))
    assert still.asked is not None
    assert still.asked.key == "damage back", "begun and not kept, it is asked for still"
    assert begin_damage_of_walk(shift.site, still, None) == damage_id

    whole = begun_one.about.model_copy(update={"began": {**place, "kind": "torn mesh"}})
    keep_damage(shift.site, type(begun_one)(damage_id, whole), shift.who(TECHNICIAN))
    after = now(shift, begun(shift)).asked
    assert after is not None
    assert after.key == "done"
    kept = end_walk(shift.site, begun(shift), plan_of(shift), shift.who(TECHNICIAN))
    assert kept.body.sections[0].damages == (damage_id,)
    assert [it.id for it in damages(shift.site, shift.clock(), MAIN)] == [damage_id]


@pytest.mark.parametrize(
    ("says", "known"),
    [
        pytest.param(
            ({"answer": "nothing new"}, {"zone": "floor", "full": {"severity": {"rock": "S3"}}}),
            {"zone": "floor", "near_m": "15", "severity": "S3"},
            id="of a zone in full: where it is exactly is asked",
        ),
        pytest.param(
            (
                {"thing": {"of": "part", "part": "mesh", "zone": "back", "severity": "S1"}},
                {"thing": {**BROKEN, "severity": "S3"}},
                {"done": True},
            ),
            {"zone": "back", "chainage_m": "12.5", "severity": "S3"},
            id="of two things in a zone: the graver, at its place",
        ),
        pytest.param(
            (
                {"thing": {"of": "part", "part": "mesh", "zone": "back", "bag_depth_mm": "400"}},
                {"done": True},
            ),
            {
                "zone": "back",
                "near_m": "15",
                "kind": "bagged mesh",
                "extent": {"bag_depth": {"value_mm": "400", "how": "eye"}},
                "how": "eye",
            },
            id="of mesh that hangs too far: how far",
        ),
    ],
)
def test_what_was_said_on_the_walk_is_carried_over_into_the_damage_that_it_demands(
    shift: Shift, says: tuple[dict[str, Any], ...], known: dict[str, Any]
) -> None:
    """Nobody judges a place twice, and the entry state must not know less than the walk."""
    work = told(shift, begun(shift), SECOND, *says)
    damage_id = begin_damage_of_walk(shift.site, now(shift, work), shift.who(TECHNICIAN))

    assert begun_damage(shift.site, damage_id).said == known


def test_steel_that_was_read_too_thin_is_begun_as_rust_with_its_reading(shift: Shift) -> None:
    bar = {"of": "steel", "steel": "bar", "part": "bolts", "zone": "back", "chainage_m": "13.4"}
    size = {"original_mm": "20", "read_mm": "1.8", "u_mm": "0.05", "how": "calliper"}
    sure = {"read_twice": True, "zinc_seen": False}
    work = told(shift, begun(shift), SECOND, {"thing": {**bar, **size, **sure}})
    with pytest.raises(GraveNotRecorded):
        end_walk(shift.site, work, plan_of(shift), shift.who(TECHNICIAN))
    damage_id = begin_damage_of_walk(shift.site, now(shift, work), shift.who(TECHNICIAN))
    keep_damage(shift.site, begun_damage(shift.site, damage_id), shift.who(TECHNICIAN))

    after = now(shift, begun(shift)).asked
    assert after is not None
    assert after.key == "done"
    end_walk(shift.site, begun(shift), plan_of(shift), shift.who(TECHNICIAN))
    (kept,) = damages(shift.site, shift.clock(), MAIN)
    assert (kept.newest.kind, kept.newest.chainage_m) == ("rusted", Decimal("13.4"))
    assert kept.newest.note == "bar of 20 mm read 1.8 mm, less than must be left"
    assert kept.ranked.entry == UNDECIDED, "until an engineer has judged it"


def test_damage_that_was_begun_and_discarded_is_begun_anew(shift: Shift) -> None:
    thing = {"zone": "back", "chainage_m": "13.4", "of": "damage"}
    work = told(shift, begun(shift), SECOND, {"thing": thing})
    first = begin_damage_of_walk(shift.site, now(shift, work), None)
    let_go(shift.site, begun_damage(shift.site, first))
    second = begin_damage_of_walk(shift.site, now(shift, begun(shift)), None)

    assert second != first
    (said,) = begun(shift).section(SECOND).things
    assert said["damage"] == second


def test_open_damage_that_is_worse_is_recorded_as_the_same_damage_seen_again(shift: Shift) -> None:
    torn = {"zone": "back", "kind": "torn mesh", "chainage_m": "13.4", "heading": MAIN}
    body = Damage.model_validate({**torn, "seen_at": shift.clock(), "severity": "S1"})
    known = record_damage(shift.site, body, None)
    shift.wait(minutes=5)
    told(shift, begun(shift), SECOND, {})
    work = touched(shift, begun(shift), "No damage", "worse")
    damage_id = begin_damage_of_walk(shift.site, now(shift, work), shift.who(TECHNICIAN))
    again = begun_damage(shift.site, damage_id)
    keep_damage(shift.site, again, shift.who(TECHNICIAN))

    assert again.about.again == known.id
    assert (again.said["kind"], again.said["chainage_m"]) == ("torn mesh", "13.4")
    (one,) = damages(shift.site, shift.clock(), MAIN)
    assert one.observations == (known.id, damage_id)
    touched(shift, begun(shift), "Nothing else")
    (kept,) = end_walk(
        shift.site, begun(shift), plan_of(shift), shift.who(TECHNICIAN)
    ).body.sections
    assert (kept.answer, kept.damages) == ("something new", (damage_id,))
    assert [it.said for it in kept.open_damage] == ["worse"]


TOLD = {"corrosion_grade": None, "count": None, "bag_depth_mm": None}
HANGING = {"of": "part", "part": "mesh", "zone": "back", "chainage_m": "17.5"}


@pytest.mark.parametrize(
    ("first", "second"),
    [
        pytest.param(
            {**HANGING, "severity": "S4"},
            {**BROKEN, "severity": "S4"},
            id="elsewhere in the zone, where people still pass",
        ),
        pytest.param(
            {**BROKEN, "severity": "S2"},
            {**BROKEN, "part": "mesh", "severity": "S5"},
            id="at the same place, but nobody may be beneath",
        ),
        pytest.param(
            {"of": "part", "part": "bolts", "zone": "back", "severity": "S2"},
            {"of": "part", "part": "mesh", "zone": "back", "severity": "S5"},
            id="somewhere in the section, but nobody may be beneath",
        ),
    ],
)
def test_damage_that_was_recorded_hides_no_other_grave_thing_of_its_zone(
    shift: Shift, first: dict[str, Any], second: dict[str, Any]
) -> None:
    """The entry state must not know less than the walk."""
    told(shift, begun(shift), SECOND, {"thing": {**TOLD, **first}})
    one = recorded_on_the_spot(shift)
    told(shift, begun(shift), SECOND, {"thing": {**TOLD, **second}}, {"done": True})

    asked = now(shift, begun(shift)).asked
    assert asked is not None
    assert asked.ask == "Record it as damage now."
    with pytest.raises(GraveNotRecorded):
        end_walk(shift.site, begun(shift), plan_of(shift), shift.who(TECHNICIAN))
    other = recorded_on_the_spot(shift)
    kept = end_walk(shift.site, begun(shift), plan_of(shift), shift.who(TECHNICIAN))
    assert kept.body.sections[0].damages == (one, other)


def recorded_on_the_spot(shift: Shift) -> str:
    """Record what the walk demands as it is drawn up; where nobody said where, in the middle."""
    who = shift.who(TECHNICIAN)
    damage_id = begin_damage_of_walk(shift.site, now(shift, begun(shift)), who)
    drawn_up = begun_damage(shift.site, damage_id)
    whole = {"kind": "other", "chainage_m": "15", **drawn_up.said}
    about = drawn_up.about.model_copy(update={"began": whole})
    keep_damage(shift.site, type(drawn_up)(damage_id, about), who)
    return damage_id
