"""One heading's entry under a glove: barrier, who is inbye, inspection, restriction, lifting."""

from collections.abc import Iterator
from datetime import timedelta
from decimal import Decimal
from pathlib import Path

import pytest

from fieldapp.ui.entry_words import entry_page
from fieldapp.work.entry import entry
from fieldapp.work.events import events
from fieldapp.work.notices import inspect, notices
from schemas.bodies.entry_notice import EntryNotice
from tests.demo_mine import session
from tests.ui.harness import Tablet
from tests.ui.mine import BOLTER, DAY, LONG_NAMES, Hands, at_a_mine, at_the_demo, long_names
from tests.ui.uilint import faults_both_ways, faults_in_any_light

pytestmark = pytest.mark.window

OPEN = "4180 Main"
"""Accepted to the face: nothing holds entry back."""
BARRICADED = "Wrenfall Decline"
UNSIGNED = "4155 Main"


@pytest.fixture
def hands(tablet: Tablet, tmp_path: Path) -> Iterator[Hands]:
    with at_the_demo(tablet, tmp_path) as hands:
        hands.signed_in()
        yield hands


def at(hands: Hands, name: str) -> str:
    place = hands.heading_id(name)
    hands.go("entry", heading_id=place)
    return place


def standing(hands: Hands, place: str) -> list[EntryNotice]:
    return [it.body for it in notices(hands.site, place)]


def state(hands: Hands, place: str) -> str:
    return entry(hands.site, place, hands.clock()).state


def test_both_sides_of_the_entry_line_are_told(hands: Hands) -> None:
    at(hands, BARRICADED)

    told = hands.tablet.texts()
    line = told.index("to 1\N{NO-BREAK SPACE}385.8 m, nobody beyond")
    beyond = told.index("Inbye: from there to the face at 1\N{NO-BREAK SPACE}390.2 m")
    assert told[line - 1 : line + 2 : 2] == [
        "Outbye: the way in",
        "not known, supported before this record",
    ]
    assert told[beyond + 1] == "barricaded"


def test_a_barricade_in_the_heading_outranks_the_screen(hands: Hands) -> None:
    at(hands, OPEN)

    assert "A barricade or sign in the heading outranks this screen." in hands.tablet.texts()


def test_one_touch_says_that_the_barrier_is_up(hands: Hands) -> None:
    place = at(hands, UNSIGNED)
    before = state(hands, place)

    hands.tap("Barrier is up")

    assert hands.tablet.touches == 1
    assert before == "no entry, barrier not yet up"
    assert state(hands, place) == "barricaded"
    assert [it.what for it in standing(hands, place)] == ["barrier up"]


def test_no_entry_takes_two_touches_with_every_other_field_empty(hands: Hands) -> None:
    place = at(hands, OPEN)

    hands.tap("No entry", "Whole heading")

    (stated,) = standing(hands, place)
    assert hands.tablet.touches == 2
    assert stated.what == "no entry"
    assert stated.from_m == Decimal(0)
    assert (stated.reason, stated.anyone_inbye) == (None, None)


def test_no_entry_of_the_last_rows_closes_the_ground_above_them(hands: Hands) -> None:
    place = at(hands, OPEN)
    line_m = entry(hands.site, place, hands.clock()).line_m

    hands.tap("No entry", "Last rows and face")

    (stated,) = standing(hands, place)
    # class D1: rows 0.9 m apart, two of them
    assert stated.from_m == line_m - Decimal("1.8")


def test_touching_twice_states_it_once(hands: Hands) -> None:
    place = at(hands, OPEN)
    hands.tap("No entry")
    key = hands.tablet.find("Whole heading")
    where = hands.tablet.place_of(key)

    hands.tablet.tap(where)
    hands.tablet.tap(where)
    hands.rest()

    assert len(standing(hands, place)) == 1


def test_who_is_inbye_is_asked_and_kept(hands: Hands) -> None:
    place = at(hands, OPEN)
    hands.tap("No entry", "Whole heading", "Somebody is inbye", "Return")

    (stated,) = standing(hands, place)
    assert stated.anyone_inbye is True
    assert [text for text in hands.tablet.texts() if "SOMEBODY IS INBYE" in text]


def test_the_reason_is_picked_from_phrases(hands: Hands) -> None:
    place = at(hands, OPEN)
    hands.tap("No entry", "Whole heading", "Return")

    hands.tap("No entry in the whole heading", "Why", "loose rock")

    assert [it.reason for it in standing(hands, place)] == ["loose rock"]


def test_lifting_is_held_and_says_that_the_barrier_is_down(hands: Hands) -> None:
    place = at(hands, OPEN)
    hands.tap("No entry", "Whole heading", "Return", "Lift")
    hands.tap("Barrier is down: lift it")
    after_a_tap = standing(hands, place)

    hands.hold("Barrier is down: lift it")

    assert [it.what for it in after_a_tap] == ["no entry"]
    assert standing(hands, place) == []
    assert state(hands, place) == "entry allowed"
    said = hands.tablet.texts()
    assert "No event or notice stands here. Nobody goes beyond the entry line." in said
    assert "no accepted support" in said


def test_a_bolter_may_state_no_entry_and_not_lift_it(hands: Hands) -> None:
    hands.shell.lock()
    hands.rest()
    hands.sign_in(BOLTER)
    place = at(hands, OPEN)
    hands.tap("No entry", "Whole heading", "Return", "Lift")

    hands.hold("Barrier is down: lift it")

    told = " ".join(hands.tablet.texts())
    assert "The notice stays" in told
    assert [it.what for it in standing(hands, place)] == ["no entry"]


def test_an_inspection_waits_until_the_exclusion_is_over(hands: Hands) -> None:
    place = at(hands, OPEN)
    hands.tap("Report", "Seismic", "At the face")
    ends = events(hands.site, place)[-1].body.excluded_until
    hands.tap("Inspected")
    too_early = hands.tablet.find("I looked, from supported ground").disabled
    hands.tap("Return")

    while hands.clock() < ends:
        hands.clock.go_on(minutes=9)
        hands.shell.touched()
    hands.shell.refresh()
    hands.rest()
    hands.tap("Inspected")
    hands.hold("I looked, from supported ground")

    assert too_early
    assert state(hands, place) == "entry allowed"


def test_an_exclusion_that_ends_on_another_day_names_the_day(hands: Hands) -> None:
    at(hands, OPEN)
    hands.clock.go_on(hours=9)  # half past six in the evening: twelve hours end tomorrow
    hands.shell.touched()
    hands.tap("Report", "Seismic", "At the face", "Inspected")

    # the sixth of May, when the demo's story has been told
    assert [text for text in hands.tablet.texts() if text.startswith("not before 7 May")]


def test_what_still_withdraws_entry_is_listed_also_after_a_look_too_early(hands: Hands) -> None:
    """A clock that was set back makes an inspection lie ahead: the event holds entry again."""
    place = at(hands, OPEN)
    happened = hands.clock()
    hands.tap("Report", "Seismic", "At the face")
    hands.clock.at = events(hands.site, place)[-1].body.excluded_until
    inspect(hands.site, place, session(hands.site, DAY), up_to_m=Decimal(612))

    page = entry_page(hands.site, place, happened + timedelta(hours=1))

    assert page.state.state == "no entry, barrier not yet up"
    assert [it.title[:7] for it in page.events] == ["Seismic"]


def test_a_restriction_says_to_whom_until_when_and_from_where(hands: Hands) -> None:
    place = at(hands, OPEN)

    hands.tap("Restrict", "bolting crew only", "2 h", "The whole heading")

    (stated,) = standing(hands, place)
    assert stated.what == "restricted"
    assert stated.restricted_to == "bolting crew only"
    assert stated.until == hands.clock() + timedelta(hours=2)
    assert "restricted to bolting crew only until 11:30 UTC" in hands.tablet.texts()


def test_a_permission_ends_in_barricaded_by_itself(hands: Hands) -> None:
    place = at(hands, OPEN)
    hands.tap("Restrict", "bolting crew only", "1 h", "The whole heading")

    hands.clock.go_on(hours=1)
    hands.shell.touched()
    hands.shell.refresh()
    hands.rest()

    assert state(hands, place) == "barricaded"
    assert "barricaded" in hands.tablet.texts()


def test_nothing_is_lost_when_the_tablet_is_switched_off(hands: Hands) -> None:
    place = at(hands, OPEN)
    hands.tap("No entry", "Whole heading")

    hands.switch_off_and_on()
    hands.sign_in()
    hands.go("entry", heading_id=place)

    assert "No entry in the whole heading" in hands.tablet.texts()


@pytest.mark.parametrize("name", [OPEN, BARRICADED, UNSIGNED])
def test_the_screen_has_no_fault(hands: Hands, name: str) -> None:
    at(hands, name)

    assert faults_in_any_light(hands.tablet) == []


@pytest.mark.parametrize(
    "path",
    [
        ("No entry",),
        ("Lift",),
        ("Lift", "Why"),
        ("Restrict",),
        ("Restrict", "survey only"),
        ("Restrict", "survey only", "End of shift"),
        ("Restrict", "survey only", "End of shift", "Another place"),
        ("Report", "Fired"),
        ("Report",),
        ("Report", "Fall of ground"),
        ("Report", "Fall of ground", "At the face", "Inspected"),
    ],
    ids=" then ".join,
)
def test_what_lies_over_the_screen_has_no_fault(hands: Hands, path: tuple[str, ...]) -> None:
    at(hands, BARRICADED)
    hands.tap(*path)

    assert faults_both_ways(hands.tablet) == []


def test_stripped_ground_is_stated_by_from_to_and_wall_and_closes_it(hands: Hands) -> None:
    place = at(hands, OPEN)
    hands.tap("Report", "Stripped")
    hands.type("580")
    hands.type("590")
    asked = faults_both_ways(hands.tablet)
    hands.tap("Left wall")
    page = faults_both_ways(hands.tablet)
    (ends,) = (it.body.stripped for it in events(hands.site, place) if it.body.stripped)

    assert (ends.to_m, ends.zones) == (Decimal(590), ("left wall",))
    assert entry(hands.site, place, hands.clock()).line_m < Decimal(580)
    assert (asked, page) == ([], [])


def test_a_barrier_after_an_event_has_room_for_its_reason(hands: Hands) -> None:
    at(hands, OPEN)
    hands.tap("Report", "Seismic", "At the face", "Barrier is up")
    page = faults_both_ways(hands.tablet)
    hands.tap("Lift")
    sheet = faults_both_ways(hands.tablet)

    assert (page, sheet) == ([], [])


def test_long_names_have_room(tablet: Tablet, tmp_path: Path) -> None:
    with at_a_mine(tablet, tmp_path, long_names) as hands:
        hands.signed_in()
        at(hands, LONG_NAMES[-1])
        page = faults_both_ways(tablet)
        hands.tap("No entry")
        asked = faults_both_ways(tablet)
        hands.tap("Whole heading")
        stated = faults_both_ways(tablet)

    assert (page, asked, stated) == ([], [], [])
