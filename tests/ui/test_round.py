"""A round recorded by hand on a real window, against what a supervisor expects of it."""

from datetime import timedelta
from pathlib import Path
from time import sleep

import pytest

from fieldapp.ui.widgets.chip import Chip
from fieldapp.ui.widgets.drive_map import DriveMap
from fieldapp.ui.widgets.finding_row import FindingRow
from fieldapp.ui.widgets.worst_findings import MoreRow
from fieldapp.work.demanded import demanded_in_row
from schemas.bodies.round import BoltSeen
from schemas.standard import SupportClass
from tests.ui.harness import BOUNCE_S, Tablet
from tests.ui.on_a_round import Recorder, at_a_round
from tests.ui.uilint import faults_both_ways

pytestmark = pytest.mark.window

MOST_FOR_AN_EXCEPTION = 6


# --- what it asks, and when ---------------------------------------------------------------------


def test_nothing_is_filled_in_or_passed_beforehand(tablet: Tablet, tmp_path: Path) -> None:
    with at_a_round(tablet, tmp_path) as recorder:
        states = {bolt.state for bolt in recorder.screen.judged.drawing.bolts}

        assert not [chip for chip in tablet.find_all(Chip) if chip.selected]
        assert states == {"not looked at"}
        assert recorder.findings == [("Ground condition", "not looked at")]
        assert tablet.find(MoreRow).words == "26 more"


def test_one_touch_answers_and_asks_the_next(tablet: Tablet, tmp_path: Path) -> None:
    with at_a_round(tablet, tmp_path) as recorder:
        first = recorder.question.key
        recorder.touch("as expected")

        assert tablet.touches == 1
        assert (first, recorder.question.key) == ("ground", "barred before")


def test_a_touch_is_on_the_disk_before_the_screen_shows_it(tablet: Tablet, tmp_path: Path) -> None:
    with at_a_round(tablet, tmp_path) as recorder:
        shown: list[tuple[int, int]] = []

        def look(_screen: object, view: object) -> None:
            if view is not None:
                shown.append((len(recorder.work.touches), len(recorder.on_disk().touches)))

        recorder.screen.bind(view=look)
        for _ in range(5):
            recorder.answer()

        assert [count for count, _ in shown][-1] == 5
        assert all(on_glass <= on_disk for on_glass, on_disk in shown)


def test_an_answer_is_stamped_when_it_is_given(tablet: Tablet, tmp_path: Path) -> None:
    with at_a_round(tablet, tmp_path) as recorder:
        recorder.touch("as expected", later=timedelta(minutes=4))

        assert recorder.work.touches[-1].at == recorder.hands.clock.at


def test_a_glove_that_bounces_answers_once(tablet: Tablet, tmp_path: Path) -> None:
    with at_a_round(tablet, tmp_path) as recorder:
        sleep(BOUNCE_S)
        place = tablet.place_of(tablet.find("wetter", recorder.panel))
        tablet.tap(place)
        tablet.tap(place)
        recorder.rest()

        assert len(recorder.work.touches) == 1


def test_the_row_in_question_is_framed_and_its_bolt_ringed(tablet: Tablet, tmp_path: Path) -> None:
    with at_a_round(tablet, tmp_path, "spacing 2") as recorder:
        drawing = recorder.screen.ids.map.drawing
        bolt = next(
            it for it in drawing.bolts if (it.row, it.position) == (2, recorder.question.position)
        )

        assert [frame.row for frame in drawing.rows if frame.selected] == [2]
        assert recorder.screen.ids.map.selected == (bolt.x_m, bolt.s_m)


def test_another_value_is_typed_with_its_way_of_reading(tablet: Tablet, tmp_path: Path) -> None:
    with at_a_round(tablet, tmp_path, "ahead 1") as recorder:
        sleep(BOUNCE_S)
        recorder.hands.tap("Other…", "laser")
        recorder.hands.type("0.93")
        recorder.rest()
        reading = recorder.work.seen.rows[0].ahead_of_row_before

        assert reading is not None
        assert (str(reading.value_m), reading.method) == ("0.93", "laser")


def test_three_rows_at_once_are_asked_about_now(tablet: Tablet, tmp_path: Path) -> None:
    with at_a_round(tablet, tmp_path, "ahead 1") as recorder:
        for _ in range(8):
            recorder.touch(recorder.chip_as_standard(recorder.question), later=timedelta(0))
        asked = recorder.question.ask
        recorder.touch("Look again")

        assert asked == "Rows 1, 2, 3 in under 6 s. Did you look at every plate?"
        assert recorder.work.seen.hasty[0].answer == "look again"
        assert not recorder.question.key.startswith("haste")


def test_what_is_too_close_to_tell_is_measured_again_once(tablet: Tablet, tmp_path: Path) -> None:
    with at_a_round(tablet, tmp_path, "face right") as recorder:
        recorder.type("0.995")
        asked, chips = recorder.question, recorder.chips
        straddled = dict(recorder.findings)
        recorder.type("0.96")
        tablet.until(lambda: recorder.hands.is_at("review"))

        assert asked.key == "face right"
        assert "measure again, once, by a better method" in asked.hint
        assert chips == ["Other…"]
        assert straddled["Last row to face"] == "measure again"


def test_the_review_opens_by_itself_after_the_last_answer(tablet: Tablet, tmp_path: Path) -> None:
    with at_a_round(tablet, tmp_path, "face middle") as recorder:
        recorder.answer_until()
        tablet.until(lambda: recorder.hands.is_at("review"))


# --- what is not as standard --------------------------------------------------------------------


def test_a_missing_bolt_opens_a_gap_and_leads_the_list(tablet: Tablet, tmp_path: Path) -> None:
    with at_a_round(tablet, tmp_path, "count 3") as recorder:
        tablet.touches = 0
        recorder.touch_bolt(3, 6)
        recorder.hands.tap("Bolt missing")
        recorder.rest()
        recorder.touch("8")
        touches = tablet.touches
        recorder.answer_until("spacing 5")
        circles = recorder.screen.judged.drawing.circles

        assert touches <= MOST_FOR_AN_EXCEPTION
        assert recorder.findings[0] == ("Bolts present", "rework")
        # One bolt of a 1.2 by 0.9 m pattern missing leaves 1.8 m along the drive, and more.
        assert [circle.diameter_m > 1.8 for circle in circles] == [True]


def test_a_bolt_is_marked_by_its_number_as_well(tablet: Tablet, tmp_path: Path) -> None:
    with at_a_round(tablet, tmp_path, "count 1") as recorder:
        tablet.touches = 0
        recorder.hands.tap("Mark one", "4", "Plate loose")
        recorder.rest()

        assert tablet.touches <= MOST_FOR_AN_EXCEPTION
        assert recorder.work.seen.rows[0].bolts == (
            BoltSeen(position=4, state="present", plate="loose"),
        )


def test_a_bolt_of_an_old_row_is_marked_there(tablet: Tablet, tmp_path: Path) -> None:
    with at_a_round(tablet, tmp_path, "old row 1") as recorder:
        recorder.hands.tap("Mark one", "2", "Rusted", "Grade 4")
        recorder.rest()
        old = recorder.work.seen.old_rows

        assert old[0].bolts == recorder.on_disk().began.old_rows[0].bolts
        assert [
            (bolt.position, bolt.corrosion_grade) for bolt in old[1].bolts if bolt.position == 2
        ] == [(2, 4)]


def test_taping_a_bolt_keeps_what_was_said_of_it(tablet: Tablet, tmp_path: Path) -> None:
    with at_a_round(tablet, tmp_path) as recorder:
        recorder.touch_bolt(2, 3)
        recorder.hands.tap("Plate loose")
        recorder.rest()
        recorder.touch_bolt(2, 3)
        recorder.hands.tap("Tape its place")
        recorder.hands.type("2.45±")
        recorder.rest()
        (bolt,) = recorder.work.seen.rows[0].bolts

        assert (bolt.plate, bolt.method, str(bolt.s_m)) == ("loose", "tape", "-2.450")


def test_a_hole_in_the_mesh_stays_when_the_rest_was_looked_at(
    tablet: Tablet, tmp_path: Path
) -> None:
    with at_a_round(tablet, tmp_path, "mesh whole") as recorder:
        drive = recorder.screen.ids.map
        tablet.tap(drive.view.pixel(drive.drawing.x_to_m - 0.1, 0.6))
        recorder.hands.tap("9 openings")
        recorder.rest()
        recorder.touch("No other")
        mesh = recorder.work.seen.mesh

        assert [hole.openings for hole in mesh.holes] == [9]
        assert (mesh.no_holes, mesh.no_bagging) == (False, True)

        one = next(bolt for bolt in drive.drawing.bolts if bolt.row == 1)
        beside = next(it for it in drive.drawing.bolts if it.row == 1 and it.s_m > one.s_m)
        tablet.tap(drive.view.pixel(one.x_m, (one.s_m + beside.s_m) / 2))
        recorder.hands.tap("None of them", "400 mm")
        recorder.rest()
        assert len(recorder.work.seen.mesh.bags) == 1, "wherever bolts stand near on the glass"


def test_a_touched_finding_moves_the_map_and_asks_what_settles_it(
    tablet: Tablet, tmp_path: Path
) -> None:
    with at_a_round(tablet, tmp_path, "count 2") as recorder:
        recorder.touch_bolt(2, 8)
        recorder.hands.tap("Bolt missing")
        recorder.rest()
        recorder.touch("8")
        row = next(it for it in tablet.find_all(FindingRow) if it.title == "Bolts present")
        tablet.tap(row)
        recorder.rest()
        bolt = next(
            it for it in recorder.screen.judged.drawing.bolts if (it.row, it.position) == (2, 8)
        )
        x_m, s_m = recorder.screen.ids.map.selected

        assert recorder.question.key == "count 2"
        assert (x_m, s_m) == pytest.approx((bolt.x_m, bolt.s_m), abs=0.01)


def test_an_answer_is_given_again_without_undoing_the_rest(tablet: Tablet, tmp_path: Path) -> None:
    with at_a_round(tablet, tmp_path, "blocked") as recorder:
        tablet.touches = 0
        recorder.hands.tap("More", "Answer again", "Face scaled, and supported as required?")
        recorder.rest()
        recorder.touch("No")

        assert tablet.touches <= MOST_FOR_AN_EXCEPTION
        assert recorder.work.seen.face.scaled_and_supported is False
        assert recorder.question.key == "blocked"


def test_rows_profile_and_notes_are_a_few_touches_away(tablet: Tablet, tmp_path: Path) -> None:
    with at_a_round(tablet, tmp_path) as recorder:
        recorder.hands.tap("More", "Number of rows", "4")
        recorder.rest()
        recorder.hands.tap("More", "Note", "face ragged")
        recorder.rest()
        recorder.hands.tap("More", "Overbreak")
        recorder.hands.type("5.2")
        recorder.hands.type("2.5")
        recorder.rest()
        recorder.hands.tap("More", "Overbreak, one row", "Row 2")
        recorder.hands.type("6.4")
        recorder.hands.type("2.6")
        recorder.rest()
        a_survey(recorder.hands.site.folder / "import" / "row-3.csv")
        recorder.hands.tap("More", "Overbreak, one row", "From a file", "Row 3", "row-3.csv")
        recorder.rest()
        wider = recorder.work
        surveyed = recorder.on_disk().seen.profile_at(3)
        inbye = ground_changes(recorder)
        at_fault, drawing = faults_both_ways(tablet), tablet.find(DriveMap).drawing
        seen = recorder.work.seen

        assert [row.profile is None for row in seen.rows if row.number == 2] == [False]
        assert demanded_in_row(wider, 2) > demanded_in_row(wider, 1)
        assert surveyed is not None
        assert (str(surveyed.width_m), len(surveyed.points)) == ("6.200", 5)
        assert demanded_in_row(wider, 3) > demanded_in_row(wider, 1)
        assert (seen.rows_planned, seen.notes) == (4, ("face ragged",))
        assert seen.profile is not None
        assert (str(seen.profile.width_m), str(seen.profile.rise_m)) == ("5.2", "2.5")
        # Another class past the first row: judged by it, and drawn with a line and both names.
        assert [recorder.work.class_of(row).code == inbye.code for row in (1, 2)] == [False, True]
        assert [it.x_m for it in drawing.lines if it.kind == "ground changes"] == [
            float(seen.joint_m) + 1
        ]
        assert drawing.tags[0].text.endswith(f", then {inbye.code}")
        assert at_fault == []


def a_survey(file: Path) -> None:
    """Lay down the points of a drive whose left shoulder broke out."""
    file.parent.mkdir()
    file.write_text("x_m,y_m\n-3.2,0\n-3.2,3.2\n0,5.8\n3.0,3.2\n3.0,0\n")


def ground_changes(recorder: Recorder) -> SupportClass:
    """Tell by touches that another class of the standard begins a metre past the joint."""
    work = recorder.work
    other = next(it for it in work.standard.classes if it.code != work.support_class.code)
    recorder.hands.tap("More", "Ground changes", other.code)
    recorder.hands.type(f"{work.seen.joint_m + 1}")
    recorder.hands.tap(other.bolts[0].code, "the geotechnical engineer")
    recorder.rest()
    return other
