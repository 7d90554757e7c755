"""A round undone, left, killed and turned: nothing that was touched is lost."""

import shutil
from pathlib import Path
from time import sleep

import pytest

from fieldapp.ui.widgets.sheet import Sheet
from fieldapp.work.demo import READY
from fieldapp.work.rounds import open_round
from fieldapp.work.touches import BoltMarked
from schemas.bodies.round import BoltSeen
from tests.ui.harness import BOUNCE_S, PORTRAIT, Tablet
from tests.ui.on_a_round import as_a_power_cut_leaves_it, at_a_round

pytestmark = pytest.mark.window


# --- nothing is lost ----------------------------------------------------------------------------


def test_undo_goes_back_through_everything_also_after_a_restart(
    tablet: Tablet, tmp_path: Path
) -> None:
    with at_a_round(tablet, tmp_path) as recorder:
        asked = [recorder.question.key]
        for _ in range(6):
            recorder.answer()
            asked.append(recorder.question.key)
        undone = [recorder.question.key]
        for step in range(6):
            if step == 3:
                recorder.hands.switch_off_and_on()
                recorder.hands.sign_in()
                recorder.begin()
            recorder.hands.tap("Undo")
            recorder.rest()
            undone.append(recorder.question.key)

        assert undone == asked[::-1]
        assert recorder.work.seen == recorder.work.began
        assert tablet.find("Undo").disabled


def test_a_killed_app_comes_back_at_the_same_place(tablet: Tablet, tmp_path: Path) -> None:
    with at_a_round(tablet, tmp_path, "spacing 1") as recorder:
        seen, asked = recorder.work.seen, recorder.question.key
        as_a_power_cut_leaves_it(recorder.hands, tmp_path / "after the cut")
        recorder.hands.sign_in()
        recorder.begin()

        assert recorder.work.seen == seen
        assert recorder.question.key == asked


def test_a_full_disk_is_told_and_nothing_is_shown_as_kept(tablet: Tablet, tmp_path: Path) -> None:
    with at_a_round(tablet, tmp_path, "barred after") as recorder:
        recorder.hands.site.store.close()
        shutil.rmtree(recorder.hands.home)
        touches = len(recorder.work.touches)
        sleep(BOUNCE_S)
        tablet.tap(tablet.find("No", recorder.panel))
        tablet.until(lambda: bool(tablet.find_all("Understood")))

        assert len(recorder.work.touches) == touches
        assert recorder.question.key == "barred after"


def test_no_entry_is_two_touches_away_with_all_else_empty(tablet: Tablet, tmp_path: Path) -> None:
    with at_a_round(tablet, tmp_path) as recorder:
        recorder.hands.tap("No entry")

        assert tablet.touches == 1
        assert any("no entry" in text.lower() for text in tablet.texts(tablet.window.children[0]))


def test_no_entry_is_two_touches_away_over_a_panel(tablet: Tablet, tmp_path: Path) -> None:
    with at_a_round(tablet, tmp_path) as recorder:
        recorder.touch_bolt(2, 4)
        tablet.touches = 0
        recorder.hands.tap("No entry")
        sheets = tablet.window.children

        assert tablet.touches == 1
        assert not any(it.title == "What is it like?" for it in sheets if isinstance(it, Sheet))
        assert any("no entry" in text.lower() for text in tablet.texts(sheets[0]))


def test_leaving_and_coming_back_changes_nothing(tablet: Tablet, tmp_path: Path) -> None:
    with at_a_round(tablet, tmp_path, "butts") as recorder:
        recorder.hands.tap("Board")
        recorder.begin()

        assert recorder.question.key == "butts"
        assert len(recorder.work.touches) == 4


def test_the_tablet_is_turned_while_recording(tablet: Tablet, tmp_path: Path) -> None:
    with at_a_round(tablet, tmp_path) as recorder:
        recorder.answer()
        tablet.turn(PORTRAIT)
        recorder.answer()
        review = tablet.place_of("Review and sign")
        asked = tablet.place_of(recorder.panel)

        assert len(recorder.work.touches) == 2
        assert review[1] < asked[1]


def test_a_round_of_another_heading_shows_nothing_of_this_one(
    tablet: Tablet, tmp_path: Path
) -> None:
    with at_a_round(tablet, tmp_path) as recorder:
        mark = BoltMarked(
            at=recorder.hands.clock.at, row=1, bolt=BoltSeen(position=1, state="missing")
        )
        recorder.screen.keep(mark)
        recorder.rest()
        recorder.begin("4155 Ore Drive S")
        other = open_round(recorder.hands.site, recorder.hands.heading_id("4155 Ore Drive S"))

        assert recorder.screen.heading_name == "4155 Ore Drive S"
        assert other is not None
        assert recorder.work.round_id == other.work.round_id
        assert recorder.on_disk().heading.name == READY
