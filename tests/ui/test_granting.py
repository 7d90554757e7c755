"""Granting a deviation at the review of a round, by the engineer's own sign code."""

from datetime import timedelta
from pathlib import Path

import pytest

from fieldapp.ui.panels.granting import GrantPanel
from fieldapp.work.demo import READY
from fieldapp.work.deviations import REASONS, granted_for
from schemas.bodies.deviation import Deviation
from tests.demo_mine import CODES
from tests.ui.at_review import A_BOLT_MISSING, reasons, review
from tests.ui.harness import Tablet
from tests.ui.mine import DAY, ENGINEER, Hands
from tests.ui.on_a_round import Recorder, at_a_round
from tests.ui.uilint import faults_both_ways

pytestmark = pytest.mark.window


def as_engineer(recorder: Recorder) -> Hands:
    hands = recorder.hands
    hands.shell.lock()
    hands.signed_in(ENGINEER)
    hands.go("review", heading_id=hands.heading_id(READY))
    return hands


def asked_to_grant(hands: Hands, title: str) -> GrantPanel:
    """Go as far as what is to be granted lies on the glass."""
    hands.tablet.tap(reasons(hands.tablet)[title])
    hands.tap("Grant a deviation", REASONS[1])
    panel = hands.tablet.find(GrantPanel)
    assert isinstance(panel, GrantPanel)
    return panel


def granted(recorder: Recorder) -> list[Deviation]:
    return list(granted_for(recorder.hands.site, recorder.screen.judged.work.round_id))


def test_an_engineer_grants_a_deviation_for_one_place(tablet: Tablet, tmp_path: Path) -> None:
    with at_a_round(tablet, tmp_path, "", A_BOLT_MISSING) as recorder:
        hands = as_engineer(recorder)
        holes = ("Largest gap", "Broken rock in a bay of mesh")
        for title in ("Bolts present", *holes, "Load in the back"):
            asked_to_grant(hands, title)
            hands.hold("Grant it")
            hands.type(CODES[ENGINEER])
            hands.rest()
        said = {title: row.says for title, row in reasons(tablet).items()}

        assert {(it.check, it.row) for it in granted(recorder)} == {
            ("bolts_present", 3),
            ("largest_gap", 3),
            ("load", 3),
            ("mesh_panel", 3),
        }
        assert all(it.ends_at <= hands.clock.at + timedelta(hours=24) for it in granted(recorder))
        assert said["Bolts present"] == "rework, under a deviation"
        assert recorder.screen.may_accept


def test_what_is_granted_is_named_before_the_code(tablet: Tablet, tmp_path: Path) -> None:
    with at_a_round(tablet, tmp_path, "", A_BOLT_MISSING) as recorder:
        hands = as_engineer(recorder)
        panel = asked_to_grant(hands, "Largest gap")

        assert panel.finding.startswith("Largest gap: rework, 1.8")
        assert panel.finding.endswith("at most 1.73, S-2, 5.4")
        assert panel.where == "gap beside row 3, 0.9 m right of the crown"
        # a day after half past nine in the morning, when this round was looked at
        assert panel.ends.startswith("with the round, at the latest 7 May 2031 ")
        assert panel.reason == REASONS[1]


def test_neither_a_touch_nor_another_code_grants_anything(tablet: Tablet, tmp_path: Path) -> None:
    with at_a_round(tablet, tmp_path, "", A_BOLT_MISSING) as recorder:
        hands = as_engineer(recorder)
        asked_to_grant(hands, "Largest gap")
        hands.tap("Grant it")
        after_a_touch = tablet.find_all(GrantPanel), granted(recorder)
        hands.hold("Grant it")
        hands.type(CODES[DAY])
        hands.rest()
        told = tablet.texts(tablet.window.children[0])
        after_another_code = granted(recorder)
        hands.tap("Once more")
        hands.type(CODES[ENGINEER])
        hands.rest()

        assert len(after_a_touch[0]) == 1
        assert after_a_touch[1] == after_another_code == []
        assert "This is not the sign code of Geotechnical engineer." in told
        assert [it.check for it in granted(recorder)] == ["largest_gap"]


def test_what_is_granted_has_no_fault(tablet: Tablet, tmp_path: Path) -> None:
    with at_a_round(tablet, tmp_path, "", A_BOLT_MISSING) as recorder:
        asked_to_grant(as_engineer(recorder), "Largest gap")

        assert faults_both_ways(tablet) == []


def test_a_supervisor_is_offered_no_deviation(tablet: Tablet, tmp_path: Path) -> None:
    with at_a_round(tablet, tmp_path, "", A_BOLT_MISSING) as recorder:
        review(recorder)
        tablet.tap(reasons(tablet)["Largest gap"])
        tablet.until(lambda: recorder.on_round)

        assert not tablet.find_all("Grant a deviation")
