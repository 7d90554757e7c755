"""The Round and Review screens as a gloved thumb and tired eyes meet them, in every state."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from time import sleep

import pytest

from fieldapp.ui.theme import look
from fieldapp.work.demo.walking import Look
from schemas.bodies.round import BoltSeen
from tests.ui.harness import BOUNCE_S, Tablet
from tests.ui.mine import DAY, LONG_NAMES, Hands, at_a_mine, at_the_demo, long_names
from tests.ui.on_a_round import Recorder, look_at
from tests.ui.uilint import faults_both_ways

pytestmark = pytest.mark.window

A_GAP = Look(answers={"lap 1": "1"}, marked={3: (BoltSeen(position=6, state="missing"),)})
TWO_GONE = Look(
    marked={2: (BoltSeen(position=4, state="missing"), BoltSeen(position=5, state="missing"))}
)


def round_looked_at(hands: Hands, found: Look, stops_before: str | None) -> Recorder:
    hands.signed_in(DAY)
    look_at(hands, replace(found, stops_before=stops_before))
    recorder = Recorder(hands)
    recorder.begin()
    return recorder


@pytest.mark.parametrize(
    ("found", "stops_before"),
    [
        pytest.param(Look(), "ground", id="empty"),
        pytest.param(Look(), "bolts", id="batches"),
        pytest.param(Look(), "count 3", id="mid-way"),
        pytest.param(Look(), "lap held 1", id="words on chips"),
        pytest.param(A_GAP, "lap held 2", id="a gap and a short lap"),
        pytest.param(TWO_GONE, "spacing 4", id="no entry"),
        pytest.param(Look(), None, id="all looked at"),
    ],
)
def test_a_round_in_any_state(
    tablet: Tablet, tmp_path: Path, found: Look, stops_before: str | None
) -> None:
    with at_the_demo(tablet, tmp_path) as hands:
        round_looked_at(hands, found, stops_before)

        assert faults_both_ways(tablet) == []


def open_bolt(recorder: Recorder) -> None:
    recorder.touch_bolt(2, 3)


def open_old_bolt(recorder: Recorder) -> None:
    recorder.hands.tap("Mark one", "Another row", "Old row", "1")


def open_ground(recorder: Recorder) -> None:
    drive = recorder.screen.ids.map
    recorder.tablet.tap(drive.view.pixel(drive.drawing.x_to_m - 0.1, 0.6))


def open_pad(recorder: Recorder) -> None:
    sleep(BOUNCE_S)
    recorder.hands.tap("Other…", "1")


@pytest.mark.parametrize(
    "opened",
    [
        open_bolt,
        open_old_bolt,
        open_ground,
        open_pad,
        lambda recorder: recorder.hands.tap("Mark one"),
        lambda recorder: recorder.hands.tap("More"),
        lambda recorder: recorder.hands.tap("More", "Answer again"),
        lambda recorder: recorder.hands.tap("More", "Number of rows"),
        lambda recorder: recorder.hands.tap("More", "Note"),
    ],
    ids=["bolt", "old bolt", "ground", "pad", "mark", "more", "again", "rows", "note"],
)
def test_its_panels(tablet: Tablet, tmp_path: Path, opened: Callable[[Recorder], None]) -> None:
    with at_the_demo(tablet, tmp_path) as hands:
        opened(round_looked_at(hands, Look(), "ahead 3"))

        assert faults_both_ways(tablet) == []


@pytest.mark.parametrize(
    ("found", "stops_before"),
    [
        pytest.param(Look(), "ground", id="nothing looked at"),
        pytest.param(A_GAP, "lap held 2", id="rework"),
        pytest.param(TWO_GONE, None, id="no entry"),
        pytest.param(Look(), None, id="accepted"),
    ],
)
def test_a_review_in_any_state(
    tablet: Tablet, tmp_path: Path, found: Look, stops_before: str | None
) -> None:
    with at_the_demo(tablet, tmp_path) as hands:
        round_looked_at(hands, found, stops_before)
        hands.tap("Review and sign")
        tablet.until(lambda: bool(hands.shell.screen and hands.shell.screen.title))
        hands.rest()

        assert faults_both_ways(tablet) == []


def test_the_sheet_after_signing(tablet: Tablet, tmp_path: Path) -> None:
    with at_the_demo(tablet, tmp_path) as hands:
        round_looked_at(hands, TWO_GONE, None)
        hands.tap("Review and sign")
        hands.rest()
        hands.hold("Barricade")
        hands.type("1111")
        hands.rest()
        tablet.until(lambda: any(text.startswith("Round sheet") for text in tablet.texts()))

        assert hands.is_at("review")
        assert faults_both_ways(tablet) == []


def test_the_bright_look(tablet: Tablet, tmp_path: Path) -> None:
    with at_the_demo(tablet, tmp_path) as hands:
        round_looked_at(hands, A_GAP, "lap held 2")
        look.use("bright")
        on_round = faults_both_ways(tablet)
        hands.tap("Review and sign")
        hands.rest()

        assert (on_round, faults_both_ways(tablet)) == ([], [])


def test_sixty_bolts(tablet: Tablet, tmp_path: Path) -> None:
    with at_the_demo(tablet, tmp_path) as hands:
        recorder = round_looked_at(hands, Look(), "ahead 1")
        hands.tap("More", "Number of rows", "7")
        recorder.rest()
        recorder.answer()
        bolts = [bolt for bolt in recorder.screen.judged.drawing.bolts if not bolt.old]

        assert len(bolts) == 63
        assert faults_both_ways(tablet) == []


def test_long_names(tablet: Tablet, tmp_path: Path) -> None:
    with at_a_mine(tablet, tmp_path, long_names) as hands:
        hands.signed_in(DAY)
        recorder = Recorder(hands)
        recorder.begin(LONG_NAMES[0])
        on_round = [it for it in faults_both_ways(tablet) if LONG_NAMES[0][:12] not in it.where]
        hands.tap("Review and sign")
        hands.rest()
        on_review = [it for it in faults_both_ways(tablet) if LONG_NAMES[0][:12] not in it.where]

        # The heading's own name may end in an ellipsis: no letter is small enough for any name.
        assert (on_round, on_review) == ([], [])
