"""A condition walk under a glove: section by section, switched off in the middle, ended."""

import os
from collections.abc import Iterator
from datetime import timedelta
from decimal import Decimal
from pathlib import Path
from time import sleep

import pytest

from fieldapp.report.words.findings import BETWEEN
from fieldapp.ui.widgets.drive_map import DriveMap
from fieldapp.work.damage.stating import damages, record_damage
from fieldapp.work.events import report_event
from fieldapp.work.photo.photographs import photos_of
from fieldapp.work.walk.draft import open_walk
from fieldapp.work.walk.walks import walks
from schemas.bodies.damage import Damage
from tests.photos.files import photo
from tests.ui.harness import BOUNCE_S, PORTRAIT, Tablet
from tests.ui.mine import LONG_NAMES, Hands, at_a_mine, at_the_demo, long_names
from tests.ui.uilint import faults_both_ways

pytestmark = pytest.mark.window

OPEN = "4180 Main"
TECHNICIAN = "Geotechnical technician"
HOUR = timedelta(hours=1)


@pytest.fixture
def hands(tablet: Tablet, tmp_path: Path) -> Iterator[Hands]:
    with at_the_demo(tablet, tmp_path) as hands:
        hands.signed_in(TECHNICIAN)
        yield hands


def answer(hands: Hands, *labels: str) -> None:
    """Touch one chip after the other, each once it takes a touch."""
    for label in labels:
        hands.sees(label)
        sleep(BOUNCE_S)
        hands.tap(label)


def open_damage(hands: Hands) -> str:
    """Have torn mesh in the first section that somebody saw an hour ago; give its id."""
    torn = {"zone": "back", "kind": "torn mesh", "chainage_m": "3.4", "severity": "S1"}
    said = {**torn, "heading": hands.heading_id(OPEN), "seen_at": hands.clock() - HOUR}
    return record_damage(hands.site, Damage.model_validate(said), None).id


def touch_the_drive(hands: Hands, x_m: float, s_m: float) -> None:
    sleep(BOUNCE_S)
    view = hands.shell.screen.ids.map.view  # type: ignore[union-attr]
    hands.tablet.tap(view.pixel(x_m, s_m))
    hands.rest()


def the_keys_of_the_map_lie_on_it_in_portrait(hands: Hands) -> None:
    before = tuple(hands.tablet.window.size)
    hands.tablet.turn(PORTRAIT)
    assert hands.tablet.find("+").top <= hands.tablet.find(DriveMap).top + 1
    hands.tablet.turn(before)


def test_a_heading_is_walked_and_what_was_found_is_kept(hands: Hands) -> None:
    old = open_damage(hands)
    hands.tap("Old support", "Condition walk", OPEN, "Begin the walk")
    the_poor_light_is_noted(hands)
    answer(hands, "No damage")
    hands.sees("Open damage: torn mesh. Still so?")
    assert faults_both_ways(hands.tablet) == []
    answer(hands, "as it was", "No photo", "Not reached")
    assert faults_both_ways(hands.tablet) == []
    answer(hands, "stored material")
    the_plan_leads_back_to_what_was_answered(hands)
    touch_the_drive(hands, 23.4, 2.6)
    assert faults_both_ways(hands.tablet) == []
    the_keys_of_the_map_lie_on_it_in_portrait(hands)
    answer(hands, "plates", "Cards")
    assert faults_both_ways(hands.tablet) == []
    hands.tap(next(it for it in hands.tablet.texts() if it.startswith("S4: ")))
    answer(hands, "3", "2")
    what_was_only_begun_leads_back_to_it(hands)
    before = walks(hands.site, hands.heading_id(OPEN))

    hands.switch_off_and_on()
    hands.signed_in(TECHNICIAN)
    what_was_begun_says_so_before_it_is_opened(hands)
    assert faults_both_ways(hands.tablet) == []
    hands.tap("Record damage")
    answer(hands, "plate gone", "Keep")
    hands.tablet.until(lambda: hands.is_at("condition_walk"))
    answer(hands, "Nothing else")
    hands.sees(f"30.0 – 40.0 m{BETWEEN}3 answered, 59 left")
    the_walk_is_ended(hands)

    (kept,) = walks(hands.site, hands.heading_id(OPEN))
    found = damages(hands.site, hands.clock(), OPEN)
    (damage,) = (it for it in found if it.id != old)
    first, second, third = kept.body.sections
    assert before == ()
    assert (first.answer, second.not_reached) == ("nothing new", "stored material")
    said = [(it.damage, it.said) for it in first.open_damage]
    assert (said, first.note) == ([(old, "as it was")], "poor light")
    assert third.damages == (damage.id,)
    assert (damage.newest.severity, damage.newest.zone) == ("S4", third.parts[0].zone)
    assert abs(damage.newest.chainage_m - Decimal("23.4")) <= Decimal("0.2")


def the_walk_is_ended(hands: Hands) -> None:
    hands.tap("End walk")
    assert faults_both_ways(hands.tablet) == []
    hands.tablet.tap(hands.tablet.find_all("End the walk")[-1])
    hands.tablet.until(lambda: hands.is_at("shift_board"))


def what_was_only_begun_leads_back_to_it(hands: Hands) -> None:
    hands.tap("End walk")
    hands.sees("Go on there")
    assert faults_both_ways(hands.tablet) == []
    hands.tap("Go on there")
    hands.sees("Record damage")


def what_was_begun_says_so_before_it_is_opened(hands: Hands) -> None:
    hands.tap("Old support", "Condition walk")
    hands.sees("walk begun, not ended: go on")
    hands.tap(OPEN)
    hands.sees("Record damage")


def the_plan_leads_back_to_what_was_answered(hands: Hands) -> None:
    hands.tap("Plan")
    hands.sees("answered: no damage seen")
    hands.tap("0.0 – 10.0 m")
    hands.sees("0.0 – 10.0 m is answered.")
    assert faults_both_ways(hands.tablet) == []
    sleep(BOUNCE_S)
    hands.tap("Answer it anew")
    hands.sees(f"0.0 – 10.0 m{BETWEEN}1 answered, 61 left")
    hands.tap("Undo")
    hands.sees(f"20.0 – 30.0 m{BETWEEN}2 answered, 60 left")


def the_poor_light_is_noted(hands: Hands) -> None:
    hands.tap("Note")
    assert faults_both_ways(hands.tablet) == []
    hands.tap("poor light")
    hands.tap("This time")  # the card has room for few lines: a touch shows all of them
    hands.sees("not answered yet")
    assert faults_both_ways(hands.tablet) == []
    hands.tap("Return")


def test_the_camera_s_photo_is_kept_by_itself_and_the_walk_goes_on(
    hands: Hands, tmp_path: Path
) -> None:
    camera = tmp_path / "camera"
    camera.mkdir()
    settings = hands.site.settings.model_copy(update={"camera_folder": camera})
    hands.shell.site = hands.site.with_settings(settings)
    report_event(hands.site, hands.heading_id(OPEN), "seismic", Decimal(60), None)
    hands.go("condition_walk", heading_id=hands.heading_id(OPEN))
    hands.tap("Begin the walk")
    hands.sees("No damage")
    assert any(it.startswith("Nobody beyond 0.0 m: seismic") for it in hands.tablet.texts())
    assert faults_both_ways(hands.tablet) == []
    answer(hands, "No damage")
    hands.sees("Photograph this section.")
    assert faults_both_ways(hands.tablet) == []
    taken = photo(camera / "IMG_1.jpg")
    os.utime(taken, (hands.clock.at.timestamp(),) * 2)

    hands.sees(f"10.0 – 20.0 m{BETWEEN}1 answered, 61 left")
    work = open_walk(hands.site, hands.heading_id(OPEN))
    assert work is not None
    (kept,) = photos_of(hands.site, work.walk_id)
    (first,) = [it.seen for it in work.sections.values()]
    assert first is not None
    assert first.photo == kept.id


def test_nothing_is_cut_where_names_are_long(tablet: Tablet, tmp_path: Path) -> None:
    with at_a_mine(tablet, tmp_path, long_names) as hands:
        hands.signed_in("Engineer")
        hands.go("condition_walk", heading_id=hands.heading_id(LONG_NAMES[0]))

        assert faults_both_ways(hands.tablet) == []
        hands.tap("Return")
        assert hands.is_at("shift_board")
