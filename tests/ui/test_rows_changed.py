"""The number of rows made fewer by hand, after the face was read: no tick over fired ground."""

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import timedelta
from decimal import Decimal
from pathlib import Path

import pytest

from fieldapp.ui.signed_sheet import SignedSheet
from fieldapp.ui.widgets.heading_row import HeadingRow
from fieldapp.work.demo.story import JUNCTION
from fieldapp.work.demo.walking import Look
from fieldapp.work.entry import entry
from fieldapp.work.events import report_event
from fieldapp.work.notices import inspect
from fieldapp.work.rounds import last_round
from tests.demo_mine import CODES, session
from tests.ui.harness import Tablet
from tests.ui.mine import DAY, Hands, at_the_demo
from tests.ui.on_a_round import Recorder, look_at
from tests.ui.uilint import faults_both_ways

pytestmark = pytest.mark.window

FIRED = Decimal("3.6")
AGAIN = "Asked again: row 2 is the last row now."
UNSAID = "face nearer"
PAGES = 4


@contextmanager
def three_rows_read(tablet: Tablet, folder: Path) -> Iterator[Recorder]:
    """Fire for three rows, and look at them up to the face."""
    with at_the_demo(tablet, folder) as hands:
        place = hands.heading_id(JUNCTION)
        face_m = entry(hands.site, place, hands.clock.at).face_m
        report_event(hands.site, place, "fired", face_m, None, fired_m=FIRED)
        hands.clock.at += timedelta(hours=1)
        inspect(hands.site, place, session(hands.site, DAY), up_to_m=face_m + FIRED)
        hands.signed_in(DAY)
        look_at(hands, Look(), JUNCTION)
        recorder = Recorder(hands)
        recorder.begin(JUNCTION)
        yield recorder


def two_rows(recorder: Recorder) -> None:
    recorder.hands.tap("More", "Number of rows", "2")
    recorder.rest()


def board_row(hands: Hands) -> HeadingRow:
    """Turn the board's pages until the heading is there."""
    for _ in range(PAGES):
        rows = [it for it in hands.tablet.find_all(HeadingRow) if it.heading == JUNCTION]
        if rows:
            return rows[0]
        hands.tap("Down")
    raise AssertionError(f"{JUNCTION} is not on the board")


def entry_state(hands: Hands) -> str:
    return entry(hands.site, hands.heading_id(JUNCTION), hands.clock.at).state


def review(recorder: Recorder) -> Hands:
    recorder.hands.tap("Review and sign")
    recorder.tablet.until(lambda: recorder.hands.is_at("review"))
    recorder.hands.rest()
    return recorder.hands


def sign(hands: Hands, key: str) -> None:
    """Sign, and go on to the Shift board."""
    hands.hold(key)
    hands.type(CODES[DAY])
    hands.rest()
    hands.tablet.until(lambda: bool(hands.tablet.find_all(SignedSheet)), seconds=20)
    hands.tap("Shift board")
    hands.tablet.until(lambda: hands.is_at("shift_board"))
    hands.rest()


def test_the_last_row_is_asked_for_again_and_says_why(tablet: Tablet, tmp_path: Path) -> None:
    with three_rows_read(tablet, tmp_path) as recorder:
        complete = recorder.screen.view.is_complete
        two_rows(recorder)
        asked = {it.key: it for it in recorder.screen.view.asked if not it.answered}

        assert complete
        assert recorder.question.key == "finished"
        assert AGAIN in recorder.panel.hint
        assert {"last row marked", "face left", "face middle", "face right"} <= set(asked)
        assert all(it.hint.startswith(AGAIN) for it in asked.values() if it.stage == "last")
        assert review(recorder).tablet.find("Accept").disabled


def test_read_once_more_from_there_the_fired_face_is_too_far_to_be_left_unsaid(
    tablet: Tablet, tmp_path: Path
) -> None:
    """Whoever gives the readings of row 3 for row 2 is asked why; unsaid nothing is accepted."""
    with three_rows_read(tablet, tmp_path) as recorder:
        two_rows(recorder)
        recorder.answer_until(UNSAID)
        asked = recorder.question.ask
        hands = review(recorder)
        accept, why_not = tablet.find("Accept"), recorder.screen.accept_second
        sign(hands, "Send back")
        row = board_row(hands)

        assert asked.startswith("Face read at ")
        assert accept.disabled
        assert why_not == "Last row to face: not looked at"
        assert row.verdict == "rework"
        assert row.entry != "to the face"


def test_an_advance_reported_too_long_is_said_and_kept(tablet: Tablet, tmp_path: Path) -> None:
    with three_rows_read(tablet, tmp_path) as recorder:
        two_rows(recorder)
        recorder.answer_until(UNSAID)
        recorder.touch("Advanced less")
        tablet.until(lambda: recorder.hands.is_at("review"))
        recorder.hands.rest()
        sign(recorder.hands, "Accept")
        known = last_round(recorder.hands.site, recorder.hands.heading_id(JUNCTION))

        assert known is not None
        assert known.body.face_nearer is not None
        assert known.body.face_nearer.why == "the advance was less than was reported"
        assert board_row(recorder.hands).verdict == ""
        assert entry_state(recorder.hands) == "entry allowed"


def test_why_it_is_asked_fits_on_the_glass(tablet: Tablet, tmp_path: Path) -> None:
    with three_rows_read(tablet, tmp_path) as recorder:
        two_rows(recorder)
        again = faults_both_ways(tablet)
        recorder.answer_until(UNSAID)

        assert again == []
        assert faults_both_ways(tablet) == []
