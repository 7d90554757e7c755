"""A torn mesh under a glove: found, ranked, kept; and gone on with after the power was cut."""

from collections.abc import Iterator
from pathlib import Path
from time import sleep

import pytest

from fieldapp.work.damage.stating import damages
from fieldapp.work.entry import entry
from tests.ui.harness import BOUNCE_S, Tablet
from tests.ui.mine import LONG_NAMES, Hands, at_a_mine, at_the_demo, long_names
from tests.ui.uilint import faults_both_ways

pytestmark = pytest.mark.window

OPEN = "4180 Main"
TECHNICIAN = "Geotechnical technician"
MOST_TOUCHES = 20
"""From finding it to kept, digits of the chainage not counted."""


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


def test_a_tear_is_found_ranked_and_kept_also_after_the_power_was_cut(hands: Hands) -> None:
    hands.tap("Report", OPEN, "Damage")
    answer(hands, "torn mesh", "Type the chainage")
    hands.type("590.4")
    hands.rest()
    told = hands.tablet.touches - len("590.4")

    hands.switch_off_and_on()
    hands.signed_in(TECHNICIAN)
    hands.go("rehab_list")
    assert faults_both_ways(hands.tablet) == []
    hands.tap("Go on")
    assert faults_both_ways(hands.tablet) == []
    answer(hands, "right shoulder", "at one place", "4", "tape", "2.5", "S3", "loose")
    answer(hands, "E3", "vehicle", "days")
    shown = hands.tablet.texts()
    before = damages(hands.site, hands.clock())
    hands.tap("Keep")

    (kept,) = damages(hands.site, hands.clock())
    assert before == ()
    assert "nobody on foot beneath" in shown
    assert kept.ranked.priority == "P2"
    assert told + hands.tablet.touches <= MOST_TOUCHES
    assert entry(hands.site, kept.heading_id, hands.clock()).outbye == "restricted"
    assert hands.is_at("rehab_list")
    assert faults_both_ways(hands.tablet) == []

    answer(hands, "More", "Correct", "4")
    answer(hands, "6")
    assert faults_both_ways(hands.tablet) == []
    hands.tap("Keep")
    (corrected,) = damages(hands.site, hands.clock())
    assert (corrected.id, corrected.newest.extent.openings) == (kept.id, 6)


def test_nothing_is_cut_where_names_are_long(tablet: Tablet, tmp_path: Path) -> None:
    with at_a_mine(tablet, tmp_path, long_names) as hands:
        hands.signed_in("Engineer")
        hands.go("damage", heading_id=hands.heading_id(LONG_NAMES[0]))

        assert faults_both_ways(hands.tablet) == []
