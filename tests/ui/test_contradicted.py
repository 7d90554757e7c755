"""A round whose facts contradict each other, on the glass: what does, and what is asked again."""

from decimal import Decimal
from pathlib import Path

import pytest

from fieldapp.ui.widgets.finding_row import FindingRow
from fieldapp.work.demo.walking import Look
from schemas.bodies.round import BoltSeen
from tests.ui.harness import LANDSCAPE, PORTRAIT, Tablet
from tests.ui.on_a_round import Recorder, at_a_round
from tests.ui.uilint import faults

pytestmark = pytest.mark.window

TWELVE_PLATES = Look(answers={"count 2": Decimal(12)})
GIVEN_UP = Look(marked={2: (BoltSeen(position=4, state="blocked hole"),)})


def finding(recorder: Recorder, title: str) -> FindingRow:
    rows = recorder.tablet.find_all(FindingRow)
    return next(row for row in rows if row.title == title)


@pytest.mark.parametrize("size", [LANDSCAPE, PORTRAIT], ids=["landscape", "portrait"])
def test_a_count_that_can_t_be_is_asked_again_and_says_why(
    size: tuple[int, int], tablet: Tablet, tmp_path: Path
) -> None:
    tablet.turn(size)
    with at_a_round(tablet, tmp_path, "", TWELVE_PLATES) as recorder:
        assert recorder.question.key == "count 2"
        assert (
            recorder.panel.hint
            == "Can't be: row 2: 12 plates, more than there are bolts. Look again."
        )
        assert finding(recorder, "Contradiction").verdict == "measure again"
        assert faults(tablet) == []
        recorder.touch("9")

        assert recorder.screen.view.is_complete
        assert not recorder.screen.view.grave


def test_what_the_bolter_told_is_asked_again_where_more_was_marked(
    tablet: Tablet, tmp_path: Path
) -> None:
    with at_a_round(tablet, tmp_path, "", GIVEN_UP) as recorder:
        assert recorder.question.key == "blocked"
        recorder.touch("1")

        assert recorder.screen.view.is_complete
