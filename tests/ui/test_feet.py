"""Round, Review and Entry at a mine that reads feet and inches."""

import re
from pathlib import Path

import pytest

from fieldapp.report.words.lengths import FEET
from fieldapp.start import SETTINGS_FILE, write_settings
from fieldapp.ui.widgets.drive_map import DriveMap
from fieldapp.work.demo import READY
from schemas.settings import Settings
from tests.ui.harness import LANDSCAPE, PORTRAIT, Tablet
from tests.ui.mine import at_the_demo
from tests.ui.test_round_looks import A_GAP, round_looked_at
from tests.ui.uilint import faults

pytestmark = pytest.mark.window

METRIC = re.compile(r"\d[ \u00a0](?:m|mm)\b")


both_ways = pytest.mark.parametrize("size", [LANDSCAPE, PORTRAIT], ids=["landscape", "portrait"])


@both_ways
def test_the_board_and_the_entry_of_a_heading_are_in_feet(
    tablet: Tablet, tmp_path: Path, size: tuple[int, int]
) -> None:
    tablet.turn(size)
    with at_the_demo(tablet, tmp_path) as hands:
        write_settings(hands.home / SETTINGS_FILE, Settings(units=FEET))
        hands.switch_off_and_on()
        hands.signed_in()
        board = tablet.texts()

        assert faults(tablet) == []

        hands.tap("4180 Main", "Report", "Seismic", "At the face", "Barrier is up")

        assert [text for text in (*board, *tablet.texts()) if METRIC.search(text)] == []
        assert faults(tablet) == []


@both_ways
def test_the_screens_of_a_round_are_in_feet(
    tablet: Tablet, tmp_path: Path, size: tuple[int, int]
) -> None:
    tablet.turn(size)
    with at_the_demo(tablet, tmp_path) as hands:
        write_settings(hands.home / SETTINGS_FILE, Settings(units=FEET))
        hands.switch_off_and_on()
        round_looked_at(hands, A_GAP, None)
        drawing = hands.tablet.find(DriveMap).drawing

        assert all(tick.text.strip("()").endswith("″") for tick in drawing.ticks)
        assert not any(METRIC.search(tag.text) for tag in drawing.tags)
        assert faults(tablet) == []

        hands.go("standard", heading_id=hands.heading_id(READY))

        assert [text for text in tablet.texts() if METRIC.search(text)] == []
        assert faults(tablet) == []

        hands.go("review", heading_id=hands.heading_id(READY))

        assert [text for text in tablet.texts() if METRIC.search(text)] == []
        assert faults(tablet) == []
