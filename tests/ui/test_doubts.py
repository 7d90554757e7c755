"""A batch in doubt, wherever somebody decides on its rounds or works under them."""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from fieldapp.ui.widgets.fitting_words import FittingWords
from fieldapp.ui.widgets.heading_row import HeadingRow
from fieldapp.work.batches import decide_batch, doubt_batch
from fieldapp.work.batches import in_doubt as batches_in_doubt
from fieldapp.work.demo.story import MAIN, ORE_N
from fieldapp.work.demo.walking import Look
from tests.demo_mine import session
from tests.ui.harness import LANDSCAPE, PORTRAIT, Tablet
from tests.ui.mine import DAY, ENGINEER, Hands, at_the_demo
from tests.ui.on_a_round import Recorder, look_at
from tests.ui.uilint import faults, faults_both_ways

pytestmark = pytest.mark.window

BAD = "RB24-0731"
SIZES = [pytest.param(LANDSCAPE, id="landscape"), pytest.param(PORTRAIT, id="portrait")]
every_way_of_holding = pytest.mark.parametrize("size", SIZES)


@contextmanager
def in_doubt(tablet: Tablet, folder: Path, size: tuple[int, int]) -> Iterator[Hands]:
    """Open the demo mine with a batch in doubt that some of its rounds used."""
    tablet.turn(size)
    with at_the_demo(tablet, folder) as hands:
        doubt_batch(hands.site, BAD, session(hands.site, DAY), reason="sets too slowly")
        hands.signed_in(DAY)
        yield hands


def words_on(tablet: Tablet, heading: str) -> list[str]:
    row = next(it for it in tablet.find_all(HeadingRow) if it.heading == heading)
    return [str(it.text) for it in tablet.find_all(FittingWords, row)]


@every_way_of_holding
def test_the_board_says_it_in_every_heading_concerned(
    tablet: Tablet, tmp_path: Path, size: tuple[int, int]
) -> None:
    with in_doubt(tablet, tmp_path, size):
        assert any("in doubt" in words for words in words_on(tablet, MAIN))
        assert not any("in doubt" in words for words in words_on(tablet, ORE_N))
        assert faults(tablet) == []


@every_way_of_holding
def test_the_heading_says_who_decides_until_the_engineer_has(
    tablet: Tablet, tmp_path: Path, size: tuple[int, int]
) -> None:
    with in_doubt(tablet, tmp_path, size) as hands:
        hands.go("entry", heading_id=hands.heading_id(MAIN))
        doubted = "Batch RB24-0731 in doubt, round 87"
        why = "an engineer decides until 7 May 2031 09:30 UTC · sets too slowly"
        assert {doubted, why} <= set(tablet.texts())
        assert faults(tablet) == []

        engineer = session(hands.site, "Geotechnical engineer")
        decide_batch(hands.site, BAD, engineer, decision="cleared", reason="tests passed")
        hands.shell.refresh()
        hands.rest()

        assert doubted not in tablet.texts()


@every_way_of_holding
def test_who_signs_a_round_is_told_of_its_batch(
    tablet: Tablet, tmp_path: Path, size: tuple[int, int]
) -> None:
    with in_doubt(tablet, tmp_path, size) as hands:
        look_at(hands, Look(stops_before="bolts"))
        recorder = Recorder(hands)
        recorder.begin()
        assert "2.4 m, IN DOUBT" in [it.note for it in recorder.question.choices]
        assert faults(tablet) == []
        recorder.touch(BAD)
        hands.go("review", heading_id=recorder.screen.heading_id)
        told = "Batch RB24-0731 is in doubt: an engineer decides until 7 May 2031 09:30 UTC."

        tablet.until(lambda: told in tablet.texts())
        assert faults(tablet) == []


def test_an_engineer_sees_every_round_of_the_batch_and_clears_it(
    tablet: Tablet, tmp_path: Path
) -> None:
    with in_doubt(tablet, tmp_path, LANDSCAPE) as hands:
        hands.signed_in(ENGINEER)
        hands.go("entry", heading_id=hands.heading_id(MAIN))
        hands.tap("Batch RB24-0731 in doubt, round 87")
        hands.sees("4180 Main, round 87")
        assert faults_both_ways(tablet) == []
        hands.tap("Clear it", "set and pull tests passed")

        assert in_doubt_now(hands) == []
        assert "Batch RB24-0731 in doubt, round 87" not in tablet.texts()


def in_doubt_now(hands: Hands) -> list[str]:
    return [it.label for it in batches_in_doubt(hands.site)]
