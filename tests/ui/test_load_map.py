"""The map of loads: an engineer sees figures, a supervisor the verdict and the place."""

from pathlib import Path

import pytest

from fieldapp.ui.widgets.asking import KeySheet
from fieldapp.ui.widgets.drive_map import DriveMap
from fieldapp.work.demo.walking import Look
from schemas.bodies.round import BoltSeen
from tests.ui.harness import Tablet
from tests.ui.mine import DAY, ENGINEER, at_the_demo
from tests.ui.on_a_round import Recorder, look_at
from tests.ui.uilint import faults_both_ways

pytestmark = pytest.mark.window

TWO_APART = Look(
    marked={
        2: (BoltSeen(position=4, state="missing"),),
        4: (BoltSeen(position=6, state="missing"),),
    }
)


def shown(tablet: Tablet) -> DriveMap:
    found = tablet.find(DriveMap)
    assert isinstance(found, DriveMap)
    return found


def test_an_engineer_turns_the_map_to_loads_and_a_supervisor_is_told_the_place(
    tablet: Tablet, tmp_path: Path
) -> None:
    with at_the_demo(tablet, tmp_path) as hands:
        hands.signed_in(DAY)
        look_at(hands, TWO_APART)
        recorder = Recorder(hands)
        recorder.begin()
        offered, told_day = shown(tablet).other, tablet.texts()
        judged = recorder.screen.judged.assessment
        graver = {it.title: it.places[0].row for it in judged.findings if not it.lets_sign}

        hands.signed_in(ENGINEER)
        recorder.begin()
        before = shown(tablet).drawing.cells
        hands.tap("Load")
        drawing, told = shown(tablet).drawing, tablet.texts()
        at_fault = faults_both_ways(tablet)
        recorder.touch_bolt(1, 4)
        beside = str(tablet.find(KeySheet).note)
        hands.tap("Return")
        hands.tap("Found")
        after = shown(tablet).drawing.cells
        hands.tap("Review and sign")
        tablet.until(lambda: hands.is_at("review"))
        findings = recorder.screen.judged.assessment.findings
        recorder.screen.finding_touched(next(it for it in findings if "in the back" in it.title))
        figures = str(tablet.find(KeySheet).note)

        assert offered == ""
        assert "Load in the back" in told_day
        assert not any("times" in words for words in told_day)
        assert graver["Load in the back"] == 2
        assert before == after == ()
        # 1.9 times where one bolt is missing, 2.6 in a perfect pattern
        assert {"1.9", "2.6"} <= {cell.figure for cell in drawing.cells}
        assert {cell.step for cell in drawing.cells} == {1, 2, 3}
        # a finger on a figure means that bolt, never the missing one beside it
        assert beside.startswith("row 1, bolt 4 from the left: carries 120.0 kN, the plate")
        assert (1, 4) in {(bolt.row, bolt.position) for bolt in drawing.bolts}
        assert any("rising lines: 1 to 2 times" in words for words in told)
        assert figures.startswith("1.89 ± 0.04 × the demand, at least 2: row 2")
        assert at_fault == []
