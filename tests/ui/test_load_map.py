"""The map of loads: an engineer sees what each bolt carries, a supervisor the verdict and place."""

from pathlib import Path

import pytest

from fieldapp.ui.widgets.drive_map import DriveMap
from fieldapp.work.demo.walking import Look
from schemas.bodies.round import BoltSeen
from tests.ui.harness import Tablet
from tests.ui.mine import DAY, ENGINEER, Hands, at_the_demo
from tests.ui.on_a_round import Recorder, look_at
from tests.ui.uilint import faults_both_ways

pytestmark = pytest.mark.window

TWO_APART = Look(
    marked={
        2: (BoltSeen(position=4, state="missing"),),
        4: (BoltSeen(position=6, state="missing"),),
    }
)


def at_the_round(hands: Hands, who: str) -> Recorder:
    hands.signed_in(who)
    look_at(hands, TWO_APART)
    recorder = Recorder(hands)
    recorder.begin()
    return recorder


def shown(tablet: Tablet) -> DriveMap:
    found = tablet.find(DriveMap)
    assert isinstance(found, DriveMap)
    return found


def test_an_engineer_turns_the_map_to_loads_and_back(tablet: Tablet, tmp_path: Path) -> None:
    with at_the_demo(tablet, tmp_path) as hands:
        at_the_round(hands, ENGINEER)
        before = shown(tablet).drawing.cells
        hands.tap("Load")
        drawing = shown(tablet).drawing
        told = tablet.texts()
        at_fault = faults_both_ways(tablet)
        hands.tap("Found")
        after = shown(tablet).drawing.cells

        assert before == after == ()
        # 1.9 times where one bolt is missing, 2.6 in a perfect pattern
        assert {"1.9", "2.6"} <= {cell.figure for cell in drawing.cells}
        assert {cell.step for cell in drawing.cells} == {1, 2, 3}
        assert any("rising lines: 1 to 2 times" in words for words in told)
        assert at_fault == []


def test_a_supervisor_sees_the_verdict_and_the_place_alone(tablet: Tablet, tmp_path: Path) -> None:
    with at_the_demo(tablet, tmp_path) as hands:
        recorder = at_the_round(hands, DAY)
        hands.rest()
        judged = recorder.screen.judged.assessment
        graver = {it.title: it.places[0].row for it in judged.findings if not it.lets_sign}

        assert shown(tablet).other == ""
        assert not any("the demand" in words for words in tablet.texts())
        assert graver["Load, back"] == 2
