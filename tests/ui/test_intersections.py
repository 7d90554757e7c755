"""An intersection under a glove: stated, its bolts and cables marked, put in, opened too early."""

from collections.abc import Iterator
from pathlib import Path
from time import sleep

import pytest

from fieldapp.ui.widgets.plan_plot import PlanPlot
from fieldapp.work.demo.story import JUNCTION
from fieldapp.work.intersection.steps import intersections
from tests.ui.harness import BOUNCE_S, Tablet
from tests.ui.mine import Hands, at_the_demo
from tests.ui.uilint import faults_both_ways

pytestmark = pytest.mark.window


@pytest.fixture
def hands(tablet: Tablet, tmp_path: Path) -> Iterator[Hands]:
    with at_the_demo(tablet, tmp_path) as hands:
        hands.signed_in("Geotechnical engineer")
        yield hands


def answer(hands: Hands, *labels: str) -> None:
    for label in labels:
        hands.sees(label)
        sleep(BOUNCE_S)
        hands.tap(label)


def typed(hands: Hands, number: str) -> None:
    sleep(BOUNCE_S)
    hands.type(number)
    hands.rest()


def touched(hands: Hands, *place: float) -> None:
    (plot,) = hands.tablet.find_all(PlanPlot)
    sleep(BOUNCE_S)
    hands.tablet.tap(plot.to_window(*plot.where(place)))


def test_one_is_stated_marked_put_in_and_opened_too_early(hands: Hands) -> None:
    hands.tap("Old support", "Intersections")
    assert "No intersection is stated yet." in hands.tablet.texts()
    answer(hands, "Choose", "State an intersection", JUNCTION, "Type it")
    typed(hands, "50")
    answer(hands, "turnout to the right", "Type it")
    typed(hands, "5")
    hands.tap("Return")
    answer(hands, "Choose", f"{JUNCTION}: go on", "Type it")
    typed(hands, "4.5")
    answer(hands, "by tape", "W3", "Type it")
    typed(hands, "6")
    assert faults_both_ways(hands.tablet) == []
    answer(hands, "State it")
    hands.sees("restricted: cables not drilled yet")
    assert faults_both_ways(hands.tablet) == []

    answer(hands, "Bolts, cables", "Bolts as standard")
    typed(hands, "40")
    answer(hands, "Bolts, cables", "All plates seated")
    typed(hands, "39")
    answer(hands, "Return", "Bolts, cables", "All plates seated")
    typed(hands, "40")
    hands.sees("Largest gap: 1.947 ± 0.060\N{NO-BREAK SPACE}m, ≤ 1.99\N{NO-BREAK SPACE}m")
    touched(hands, 0.5, -0.7)
    answer(hands, "Another here")
    assert faults_both_ways(hands.tablet) == []
    answer(hands, "Cable", "Bolts, cables", "Length")
    typed(hands, "5")
    answer(hands, "Cables: step", "Drilled")
    typed(hands, "6")
    answer(hands, "Breakaway", "It was taken")
    hands.sees("Breakaway: cables drilled, plated demanded")
    assert faults_both_ways(hands.tablet) == []

    (kept,) = intersections(hands.site)
    assert (kept.body.step, kept.body.count, len(kept.body.bolts)) == ("drilled", 6, 40)
    assert [it.length_m for it in kept.body.cables_at] == [5]
    assert "not grouted yet" in " ".join(board_reasons(hands))
    refused_and_found_again(hands, kept.body.heading)


def refused_and_found_again(hands: Hands, heading_id: str) -> None:
    answer(hands, "Cables: step", "Refuse them", "a plate is loose")
    hands.sees("entry waits: not grouted yet; refused: a plate is loose")
    hands.shell.open("entry", heading_id=heading_id)
    answer(hands, "Intersection at 50.0 m")
    hands.sees("restricted: cables not grouted yet")


def board_reasons(hands: Hands) -> tuple[str, ...]:
    from fieldapp.work.board import board

    row = next(it for it in board(hands.site, hands.clock()) if it.name == JUNCTION)
    return row.entry.because
