"""The work of a round under a glove: stated from a list, on paper, and above the board."""

from collections.abc import Iterator
from pathlib import Path
from time import sleep

import pytest

from fieldapp.ui.widgets.bounce import BOUNCE_S
from fieldapp.work.demo.story import ORE_S
from fieldapp.work.rounds import open_round
from tests.ui.harness import Tablet
from tests.ui.mine import Hands, at_the_demo
from tests.ui.uilint import faults_both_ways

pytestmark = pytest.mark.window

WAITS = "Beyond the last row: nobody has looked into it"


@pytest.fixture
def hands(tablet: Tablet, tmp_path: Path) -> Iterator[Hands]:
    with at_the_demo(tablet, tmp_path) as hands:
        hands.signed_in()
        yield hands


def answer(hands: Hands, *labels: str) -> None:
    for label in labels:
        hands.sees(label)
        sleep(BOUNCE_S)
        hands.tap(label)


def test_work_is_stated_and_beyond_the_last_row_waits_above_the_board(hands: Hands) -> None:
    hands.go("round", heading_id=hands.heading_id(ORE_S))
    answer(hands, "More", "Work")
    assert faults_both_ways(hands.tablet) == []
    assert "not stated" in hands.tablet.texts()
    answer(hands, "Support: when was it started?", "08…")
    assert faults_both_ways(hands.tablet) == []
    answer(hands, "08:20", "Support: when was it finished?", "08…", "08:05")
    hands.sees("Was it so?")
    assert faults_both_ways(hands.tablet) == []
    answer(hands, "No, say it again", "09…", "09:05", "How was it supported?", "hand-held")
    hands.sees("09:05")
    answer(hands, "Did anyone have to go beyond the last row?", "Yes", "to bar down")
    hands.sees("yes, to bar down")
    answer(hands, "Return")

    hands.switch_off_and_on()
    hands.signed_in()
    known = open_round(hands.site, hands.heading_id(ORE_S))
    assert known is not None
    assert known.work.seen.work is not None
    assert (known.work.seen.work.method, known.work.seen.work.beyond_last_row) == (
        "hand-held", True
    )  # fmt: skip
    hands.sees(WAITS)
    assert faults_both_ways(hands.tablet) == []

    answer(hands, WAITS)
    assert faults_both_ways(hands.tablet) == []
    answer(hands, "talked through with the crew")
    assert WAITS not in hands.tablet.texts()

    answer(hands, "Standard", "Take-off", ORE_S)
    hands.sees("Bolts PB24: 13")
    assert faults_both_ways(hands.tablet) == []
    answer(hands, "Advance 2.4 m")
    assert faults_both_ways(hands.tablet) == []
    answer(hands, "4.8 m")
    hands.sees("Bolts PB24: 26")
