"""A pull under a glove: due, read one after another, failed, followed; also after a cut."""

from collections.abc import Iterator
from pathlib import Path
from time import sleep

import pytest

from fieldapp.work.bolt_tests.recording import bolt_tests
from fieldapp.work.damage.stating import damages
from tests.ui.harness import BOUNCE_S, Tablet
from tests.ui.mine import LONG_NAMES, Hands, at_a_mine, at_the_demo, long_names
from tests.ui.uilint import faults_both_ways

pytestmark = pytest.mark.window

OPEN = "4180 Main"
TECHNICIAN = "Geotechnical technician"
FAILED = "4180 Main, 609.4 m\N{NO-BREAK SPACE}· proof pull, RB24: failed"
DUE = "4180 Main\N{NO-BREAK SPACE}· proof pull, RB24: 3 of 3 still due"


@pytest.fixture
def hands(tablet: Tablet, tmp_path: Path) -> Iterator[Hands]:
    with at_the_demo(tablet, tmp_path) as hands:
        hands.signed_in(TECHNICIAN)
        yield hands


def answer(hands: Hands, *labels: str) -> None:
    """Touch one chip after the other, each once it takes a touch."""
    for label in labels:
        hands.sees(label)
        sleep(BOUNCE_S)
        hands.tap(label)


def typed(hands: Hands, number: str) -> None:
    answer(hands, "Other…")
    hands.type(number)
    hands.rest()


def test_a_pull_is_due_read_cut_off_gone_on_with_and_failed(hands: Hands) -> None:
    hands.tap("Old support", "Bolt tests")
    assert faults_both_ways(hands.tablet) == []
    hands.tap(DUE)
    typed(hands, "609.4")
    answer(hands, "back", "2", "5")
    assert faults_both_ways(hands.tablet) == []
    answer(hands, "?", "crew A", "?", "Another")
    hands.type("abc", done="Write it")
    typed(hands, "20")
    answer(hands, "0", "0", "20", "2", "85", "4")
    assert faults_both_ways(hands.tablet) == []
    hands.tap("Hold timer")
    hands.clock.go_on(seconds=75)

    hands.switch_off_and_on()
    hands.signed_in(TECHNICIAN)
    hands.go("bolt_tests")
    hands.tap("Go on")
    hands.sees("1:15")
    assert faults_both_ways(hands.tablet) == []
    hands.tap("Stop hold")
    answer(hands, "No more", "anchor slipped")
    assert faults_both_ways(hands.tablet) == []
    assert {"Failed", "Touch what is not so.", "crew A"} <= set(hands.tablet.texts())
    hands.tap("Keep")

    (kept,) = bolt_tests(hands.site)
    assert (kept.result.outcome, len(kept.test.pulled)) == ("failed", 3)
    assert (kept.test.held_min, kept.test.bolt) == (1, "2/5")
    assert faults_both_ways(hands.tablet) == []
    it_is_put_right(hands)
    hands.tap("Made", "Summary")
    assert faults_both_ways(hands.tablet) == []
    the_board_names_the_failed_test(hands)
    hands.tap("Record as damage")
    answer(hands, "at one place", "eye", "S2", "tight", "E3", "installation", "fresh")
    hands.tap("Keep")

    assert hands.is_at("bolt_tests")
    (gone,) = damages(hands.site, hands.clock())
    assert (gone.newest.kind, gone.ranked.holds) == ("bolt pulled", "open")
    assert "on the rehab list" in " ".join(hands.tablet.texts())
    the_board_names_it_no_longer(hands)


def it_is_put_right(hands: Hands) -> None:
    """Say that nobody knows which crew it was; it failed all the same."""
    hands.tap("Put right")
    hands.sees("What is to be put right?")
    assert faults_both_ways(hands.tablet) == []
    answer(hands, "More…", "crew A", "?", "typed wrong")
    hands.tap("Keep")
    assert "Put right: typed wrong (Geotechnical technician)." in " ".join(hands.tablet.texts())
    hands.tap("Return")
    assert faults_both_ways(hands.tablet) == []


def the_board_names_the_failed_test(hands: Hands) -> None:
    """Go from the board by the heading's Entry to the test, and to what is done about it."""
    hands.go("shift_board")
    assert any(it.startswith("failed proof pull at 609.4 m") for it in hands.tablet.texts())
    assert faults_both_ways(hands.tablet) == []
    hands.go("entry", heading_id=hands.heading_id(OPEN))
    assert faults_both_ways(hands.tablet) == []
    hands.tap("Failed proof pull at 609.4 m, back")
    an_engineer_is_told(hands)


def an_engineer_is_told(hands: Hands) -> None:
    """State who was told and how; the key for it is gone then."""
    assert faults_both_ways(hands.tablet) == []
    hands.tap("Engineer told")
    assert faults_both_ways(hands.tablet) == []
    hands.tap("Geotechnical engineer")
    assert faults_both_ways(hands.tablet) == []
    hands.tap("by radio", FAILED)
    assert "Geotechnical engineer was told by radio." in " ".join(hands.tablet.texts())
    assert "Engineer told" not in hands.tablet.texts()


def the_board_names_it_no_longer(hands: Hands) -> None:
    hands.tap("Return")
    hands.go("shift_board")
    assert "failed" not in " ".join(hands.tablet.texts())


def test_nothing_is_cut_where_names_are_long(tablet: Tablet, tmp_path: Path) -> None:
    with at_a_mine(tablet, tmp_path, long_names) as hands:
        hands.signed_in("Engineer")
        hands.go("bolt_tests")
        assert faults_both_ways(hands.tablet) == []
        hands.go("bolt_test", heading_id=hands.heading_id(LONG_NAMES[0]))
        assert faults_both_ways(hands.tablet) == []
