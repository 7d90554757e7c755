"""What is walked in a month: the late sections first, what was never reached, what happened."""

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal
from typing import Any

import pytest

from fieldapp.assess.walk import ToLookAt
from fieldapp.work.demo.story import CUDDY, MAIN, READY
from fieldapp.work.events import report_event
from fieldapp.work.notices import inspect
from fieldapp.work.standard_in_force import NoStandard, adopt, in_force
from fieldapp.work.walk.plan import (
    NoSuchMonth,
    PlannedSection,
    WalkPlan,
    plan_of_month,
)
from fieldapp.work.walk.section_due import NoWalkRule, section_due, walking
from fieldapp.work.walk.section_history import sections_known
from fieldapp.work.writing import state
from schemas.bodies.event import Event
from schemas.standard import EventWhat
from schemas.walk_rules import WalkRule
from tests.unit.work.conftest import Shift
from tests.unit.work.rehab.test_steps import done, verified
from tests.walks import SUPERVISOR, section, walk

ENGINEER = "Geotechnical engineer"
FOUR = (section(0, 10), section(10, 20), section(20, 30), section(30, 40))
"""All of the cuddy."""


def plan(shift: Shift, name: str = CUDDY, month: str | None = None) -> WalkPlan:
    here = shift.place(name).id
    return plan_of_month(shift.site, here, month or f"{shift.clock():%Y-%m}")


def starts(found: WalkPlan) -> list[int]:
    return [int(it.section.from_m) for it in found.sections]


def first(found: WalkPlan, from_m: int = 0) -> PlannedSection:
    return next(it for it in found.sections if it.section.from_m == from_m)


def rule(shift: Shift, **said: Any) -> None:
    """Adopt a revision that says something else of walks; nothing at all where it is told so."""
    shown = in_force(shift.site, shift.clock()).body
    assert shown.walk is not None
    walked = WalkRule.model_validate(shown.walk.model_dump() | said) if said else None
    newer = {"walk": walked, "revision": shown.revision + 1, "effective_from": shift.clock()}
    adopt(shift.site, shown.model_copy(update=newer), shift.who(ENGINEER))


def restate(shift: Shift, **said: Any) -> None:
    place = shift.place(CUDDY)
    body = place.body.model_copy(update=said)
    by, parents = shift.who(ENGINEER).person_id, (place.entry.revision,)
    state(shift.site, "heading", body, author=by, thing_id=place.id, parents=parents)


def test_a_section_that_nobody_ever_looked_at_is_due_at_once(shift: Shift) -> None:
    found = plan(shift, MAIN)

    assert (found.there, len(found.sections)) == (62, 62)
    assert first(found).why == "never looked at"
    assert (first(found).at_once, first(found).last) == (True, None)


def test_what_was_looked_at_is_due_again_after_the_interval(shift: Shift) -> None:
    walk(shift, CUDDY, *FOUR)
    assert plan(shift).sections == (), "30 days from the 6th of May is in June"

    june = plan(shift, month="2031-06")

    assert starts(june) == [0, 10, 20, 30]
    assert first(june).why == "last looked at on 6 May 2031; every 30 days"
    assert (f"{first(june).due_on}", first(june).late_days) == ("2031-06-05", 0)


def test_late_sections_come_first_the_latest_at_the_top(shift: Shift) -> None:
    walk(shift, CUDDY, *FOUR)
    shift.wait(days=10)
    walk(shift, CUDDY, section(0, 10), who=SUPERVISOR)
    shift.wait(days=8)
    walk(shift, CUDDY, section(10, 20))
    shift.wait(days=24)
    found = plan(shift)

    assert starts(found) == [20, 30, 0, 10]
    assert [it.late_days for it in found.sections] == [12, 12, 2, 0]


def test_a_section_that_was_not_reached_stays_due(shift: Shift) -> None:
    walk(shift, CUDDY, *FOUR[1:], section(0, 10, answer="not reached", not_reached="water"))
    found = plan(shift)

    assert starts(found) == [0]
    assert first(found).last is None
    assert first(found).why.endswith("; not reached on 6 May 2031: water")


@pytest.mark.parametrize("what", ["seismic", "nearby blast", "vehicle strike", "water change"])
def test_after_any_event_every_section_within_its_radius_is_due_at_once(
    shift: Shift, what: EventWhat
) -> None:
    walk(shift, CUDDY, *FOUR)
    shift.wait(days=1)
    report_event(shift.site, shift.place(CUDDY).id, what, Decimal(2), None)
    shift.wait(days=2)
    found = plan(shift)

    assert first(found).why == f"{what} at 2.0 m on 7 May 2031, not looked at since"
    assert (first(found).at_once, first(found).late_days) == (True, 2)
    far_m = {"vehicle strike": 10, "water change": 30}.get(what, 40)
    assert max(starts(found)) < far_m


def test_an_event_shakes_no_ground_that_was_supported_after_it(shift: Shift) -> None:
    days_ago = shift.clock() - timedelta(days=4)
    happened = {"what": "seismic", "chainage_m": "300", "radius_m": "80"}
    times = {"at": days_ago, "excluded_until": days_ago}
    event = Event.model_validate({"heading": shift.place(READY).id} | happened | times)
    state(shift.site, "event", event, author=None)
    shift.wait(minutes=1)  # entries of one moment are ordered by their hashes
    inspect(shift.site, shift.place(READY).id, shift.who(), up_to_m=Decimal(300))
    shift.wait(minutes=1)
    shift.sign(shift.look())
    found = first(plan(shift, READY), 290)

    assert found.why.startswith("seismic at 300.0 m on 2 May 2031")
    assert first(plan(shift, READY), 300).why == "never looked at"


def test_its_own_firing_makes_no_section_due_since_old_rows_are_confirmed_with_the_round(
    shift: Shift,
) -> None:
    walk(shift, CUDDY, *FOUR)
    shift.wait(days=1)
    report_event(shift.site, shift.place(CUDDY).id, "fired", Decimal(37), None, fired_m=Decimal(2))

    assert plan(shift).sections == ()


def test_a_walk_sees_no_ground_that_was_supported_after_it(shift: Shift) -> None:
    early = shift.clock() - timedelta(days=3)
    walk(shift, READY, section(290, 300), section(300, 310), at=early)
    heading_id = shift.place(READY).id
    nothing_happened = replace(walking(shift.site, heading_id), shaken=())
    last = sections_known(shift.site, heading_id)[-1]

    assert last.last is not None, "somebody said so"
    assert section_due(shift.site, nothing_happened, last).due.why == "never looked at"


def test_a_walk_after_the_event_settles_it(shift: Shift) -> None:
    report_event(shift.site, shift.place(CUDDY).id, "seismic", Decimal(2), None)
    shift.wait(hours=13)
    walk(shift, CUDDY, *FOUR)

    assert plan(shift).sections == ()


def test_rust_that_was_seen_last_makes_it_due_sooner(shift: Shift) -> None:
    rusty = [{"part": "mesh", "zone": "back", "corrosion_grade": 3}]
    walk(shift, CUDDY, section(0, 10, answer="something new", parts=rusty), *FOUR[1:])
    found = plan(shift)

    assert starts(found) == [0]
    assert first(found).why == "last looked at on 6 May 2031; every 14 days: rust of grade 3"


def test_what_stood_before_still_stands_when_nothing_is_new(shift: Shift) -> None:
    rusty = [{"part": "mesh", "zone": "back", "severity": "S2"}]
    walk(shift, CUDDY, section(0, 10, answer="something new", parts=rusty), *FOUR[1:])
    shift.wait(days=5)
    walk(shift, CUDDY, *FOUR)

    assert first(plan(shift)).why.endswith("every 14 days: severity S2")


def test_the_heading_s_exposure_and_air_count(shift: Shift) -> None:
    walk(shift, CUDDY, *FOUR)
    restate(shift, exposure="E4", corrosivity="C5")

    assert first(plan(shift)).why.endswith("every 21 days: air and water C5")


def test_rust_seen_before_the_support_was_renewed_there_counts_no_more(shift: Shift) -> None:
    rusty = [
        {"part": "mesh", "zone": "right shoulder", "corrosion_grade": 4, "chainage_m": "590.4"}
    ]
    walk(shift, MAIN, section(590, 600, answer="something new", parts=rusty))
    shift.wait(days=1)
    assert "rust of grade 4" in first(plan(shift, MAIN), 590).why

    repaired = done(shift)
    assert "rust of grade 4" in first(plan(shift, MAIN), 590).why, "done, not yet verified"
    verified(shift, repaired)

    assert 590 not in starts(plan(shift, MAIN))
    assert first(plan(shift, MAIN, "2031-06"), 590).why.endswith("; every 30 days")


def test_two_zones_in_ten_sections_are_answered_in_full_and_every_fifth_has_a_photo(
    shift: Shift,
) -> None:
    found = plan(shift, MAIN)

    assert sum(len(it.in_full) for it in found.sections) == 13, "2 in each ten, 1 in the last 2"
    photographed = [int(it.section.from_m) for it in found.sections if it.photo]
    assert sorted(photographed) == list(range(0, 620, 50))


def test_a_round_s_own_bolts_are_counted_and_old_ground_is_estimated(shift: Shift) -> None:
    def back(found: WalkPlan) -> ToLookAt:
        return next(it for it in found.looked_at if it.stratum == "D1, back")

    before = back(plan(shift, READY))
    shift.sign(shift.look())
    after = back(plan(shift, READY))

    assert after.estimated == before.estimated > 0
    assert after.there > before.there
    assert 40 < len(after.spots) < 60


def test_the_same_month_draws_the_same_and_another_month_others(shift: Shift) -> None:
    may, again, june = (plan(shift, MAIN, f"2031-{it}") for it in ("05", "05", "06"))

    assert may == again
    assert may.looked_at[0].spots != june.looked_at[0].spots


def test_what_is_due_is_the_same_whether_anything_is_drawn_or_not(shift: Shift) -> None:
    drawn = plan(shift, READY)
    here = shift.place(READY).id

    assert plan_of_month(shift.site, here, drawn.month, draw=False) == replace(drawn, looked_at=())


def test_a_section_is_as_long_as_the_standard_says(shift: Shift) -> None:
    rule(shift, section_m="5")

    assert plan(shift).there == 8


def test_a_standard_without_a_rule_for_walks_plans_none(shift: Shift) -> None:
    rule(shift)

    with pytest.raises(NoWalkRule, match="does not say how often"):
        plan(shift)


def test_without_a_standard_there_is_no_plan(shift: Shift) -> None:
    shift.clock.at -= timedelta(days=36_500)

    with pytest.raises(NoStandard):
        plan(shift)


@pytest.mark.parametrize("month", ["2031-13", "May", "2031", "0000-01", ""])
def test_what_is_no_month_is_refused(shift: Shift, month: str) -> None:
    with pytest.raises(NoSuchMonth):
        plan_of_month(shift.site, shift.place(CUDDY).id, month)


def test_a_walk_dated_before_the_support_was_put_up_leaves_it_due(shift: Shift) -> None:
    """A tablet's clock was set back for years: its look is old, and the section late."""
    walk(shift, CUDDY, *FOUR, at=shift.clock() - timedelta(days=4_000))
    found = plan(shift)

    assert starts(found) == [0, 10, 20, 30]
    assert [it.late_days > 3_000 for it in found.sections] == [True, True, True, False]
    assert starts(found)[-1] == 30, "it was not there yet, all of it"
