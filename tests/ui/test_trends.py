"""Trends under a glove: from the list to a chart, and from a point to what it stands on."""

from collections.abc import Iterator
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from fieldapp.ui.panels.round_panel import RoundPanel
from fieldapp.ui.repair.repair_panel import RepairPanel
from fieldapp.ui.widgets.trend_plot import TrendPlot
from fieldapp.work.damage.stating import record_damage
from fieldapp.work.writing import state
from schemas.bodies.walk import Walk
from tests.demo_mine import session
from tests.ui.at_damage import a_tear
from tests.ui.harness import Tablet
from tests.ui.mine import ENGINEER, Hands, at_the_demo
from tests.ui.uilint import faults_both_ways

pytestmark = pytest.mark.window

TECHNICIAN = "Geotechnical technician"


@pytest.fixture
def hands(tablet: Tablet, tmp_path: Path) -> Iterator[Hands]:
    with at_the_demo(tablet, tmp_path) as hands:
        yield hands


def chart(hands: Hands) -> TrendPlot:
    """Wait until the chart is there."""
    plot = hands.tablet.find(TrendPlot)
    hands.tablet.until(lambda: plot.drawn is not None)
    hands.rest()
    return plot


def points(plot: TrendPlot) -> tuple[int, ...]:
    assert plot.drawn is not None
    return plot.drawn.points


def touch_newest(hands: Hands) -> None:
    """Touch the newest point; where others lie close, say that it was that one."""
    plot = chart(hands)
    hands.tablet.tap(plot.place(max(points(plot))))
    hands.rest()
    if "Which point?" in hands.tablet.texts():
        hands.tap(hands.tablet.texts()[3])


def test_a_point_leads_to_the_round_and_to_the_damage_that_it_stands_on(hands: Hands) -> None:
    record_damage(hands.site, a_tear(hands), None)
    hands.signed_in(ENGINEER)
    hands.go("rehab_list")
    hands.tap("Trends")
    assert faults_both_ways(hands.tablet) == []
    hands.tap("Last row to face")
    chart(hands)
    assert faults_both_ways(hands.tablet) == []
    hands.tap("Told apart", "by heading")
    chart(hands)
    hands.tap("Choose")
    if "4180 Main" not in hands.tablet.texts():
        hands.tap("Down")
    hands.tap("4180 Main")
    touch_newest(hands)
    hands.sees("It stands on 1 record.")
    hands.tap("4180 Main, round 87")
    round_shown = hands.tablet.find(RoundPanel)
    hands.tap("Return")
    hands.go("trend", key="last-row-to-face", by="heading")
    chart(hands)
    come_back_to = hands.shell.screen.subtitle  # type: ignore[union-attr]

    hands.go("trend", key="damage-found")
    touch_newest(hands)
    hands.tap(next(it for it in hands.tablet.texts() if it.startswith("4180 Main,")))

    assert round_shown.title.endswith("Round 87")
    assert come_back_to == "4180 Main"
    assert hands.is_at("rehab_list")
    assert hands.tablet.find(RepairPanel).title.startswith("P2")
    hands.tap("Return")
    hands.tap("Return")
    assert hands.is_at("trend"), "the way out leads back to the point"


def test_a_point_of_a_walk_leads_to_every_look_at_its_section(hands: Hands) -> None:
    for days_ago, grade in ((60, 1), (30, 2)):
        walked(hands, hands.clock() - timedelta(days=days_ago), grade)
    hands.signed_in(ENGINEER)
    hands.go("trend", key="rust-grade", by="section")
    touch_newest(hands)
    hands.tap("4130 Cuddy 2, 10.0 to 20.0 m")
    looks = [it for it in hands.tablet.texts() if " 2031" in it]
    assert faults_both_ways(hands.tablet) == []
    hands.tap(looks[0])

    assert [it.endswith("this point") for it in looks[:2]] == [True, False]
    assert "mesh, back: rust 2" in hands.tablet.texts()


def walked(hands: Hands, at: datetime, grade: int) -> None:
    """Have the section from 10 to 20 m looked at, and rust of a grade seen on its mesh."""
    rusty = {"part": "mesh", "zone": "back", "corrosion_grade": grade}
    seen = {"from_m": "10", "to_m": "20", "at": at, "answer": "something new", "parts": [rusty]}
    body = Walk.model_validate(
        {
            "heading": hands.heading_id("4130 Cuddy 2"),
            "month": f"{at:%Y-%m}",
            "began_at": at,
            "ended_at": at,
            "sections": [seen],
        }
    )
    state(hands.site, "walk", body, author=session(hands.site, TECHNICIAN).person_id)


def test_what_nobody_recorded_has_no_chart_and_says_so(hands: Hands) -> None:
    hands.signed_in(ENGINEER)
    hands.go("trend", key="steel-left")
    hands.sees("Nothing is recorded of it.")

    assert hands.tablet.find(TrendPlot).drawn is None
    assert faults_both_ways(hands.tablet) == []


def test_where_points_lie_close_a_person_says_which_was_meant(hands: Hands) -> None:
    hands.signed_in(ENGINEER)
    hands.go("trend", key="last-row-to-face")
    plot = chart(hands)
    close = next(it for it in points(plot) if len(plot.picked(plot.place(it)).marks) > 1)
    hands.tablet.tap(plot.place(close))
    hands.rest()

    assert "Which point?" in hands.tablet.texts()
    assert plot.picked((plot.x, plot.y)).marks == ()
