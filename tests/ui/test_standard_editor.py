"""The editor of the standard: changed, checked, drawn and signed on the glass."""

import json
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from fieldapp.report.words.findings import day
from fieldapp.ui.widgets.drive_map import DriveMap
from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.stated_row import StatedRow
from fieldapp.work.standard_in_force import in_force
from tests.demo_mine import CODES
from tests.ui.harness import Tablet
from tests.ui.mine import ENGINEER, Hands, at_the_demo
from tests.ui.uilint import faults_both_ways

pytestmark = pytest.mark.window


@pytest.fixture
def hands(tablet: Tablet, tmp_path: Path) -> Iterator[Hands]:
    with at_the_demo(tablet, tmp_path) as hands:
        yield hands


def test_an_engineer_makes_a_revision_and_signs_it(hands: Hands) -> None:
    before = in_force(hands.site, hands.site.now()).body
    hands.signed_in(ENGINEER)
    hands.go("standard")
    hands.tap("New revision")
    hands.sees(
        "As revision 5, from 1 Feb 2025. Touch what is to be changed, or take a file under "
        "What changed."
    )
    assert faults_both_ways(hands.tablet) == []
    hands.tap("Pattern")
    assert faults_both_ways(hands.tablet) == []
    drawn = hands.tablet.find(DriveMap).drawing
    hands.tap("Row spacing: 0.9 m")
    hands.type("0.85")
    hands.rest()
    hands.sees("Row spacing: 0.85 m")
    hands.tap("Down", "Row spacing tolerance: 0.1 m")
    hands.type("0.15")
    hands.rest()
    hands.tap("Return")
    assert hands.tablet.find(DriveMap).drawing != drawn
    hands.sees("2 changed")
    hands.tap("The check")
    hands.sees("As drawn: gap 1.50 m, one missing 1.82 m.")
    assert faults_both_ways(hands.tablet) == []
    hands.tap("Take the proposed gap limits")
    hands.tap("What changed")
    hands.sees("Classes D1, pattern, row spacing (m)")
    assert faults_both_ways(hands.tablet) == []
    hands.tap("Rounds of the past year")
    hands.sees("Judged differently")
    assert faults_both_ways(hands.tablet) == []
    hands.tap("Return")
    may_be_in_force_from_any_day(hands)
    hands.tap("Sign", "At once")
    hands.sees("Your sign code: it signs S-2 revision 6, in force at once")
    assert faults_both_ways(hands.tablet) == []
    hands.type(CODES[ENGINEER])
    hands.rest()

    now = in_force(hands.site, hands.site.now()).body
    assert now.revision == before.revision + 1
    assert str(now.classes[0].pattern.row_spacing_m) == "0.85"
    assert hands.is_at("standard")


def may_be_in_force_from_any_day(hands: Hands) -> None:
    hands.tap("Sign", "Another day")
    hands.type("19")
    zone = ZoneInfo(hands.site.settings.zone)
    in_19_days = day(hands.site.now() + timedelta(days=19), zone)
    hands.sees(f"Your sign code: it signs S-2 revision 6, in force from {in_19_days}")
    hands.tap("Return")


def test_others_than_the_engineer_can_t_begin_one(hands: Hands) -> None:
    hands.signed_in()
    hands.go("standard")

    key = next(it for it in hands.tablet.find_all(Key) if it.title == "New revision")

    assert key.disabled


def rows(hands: Hands) -> list[StatedRow]:
    return [it for it in hands.tablet.find_all(StatedRow) if isinstance(it, StatedRow)]


def test_a_revision_from_a_file_shows_each_fault_at_its_place(hands: Hands) -> None:
    """Two figures are wrong in D1; a touch on one of the two leads to the field that holds it."""
    site = hands.site
    document = dict(in_force(site, site.now()).entry.body)
    classes = json.loads(json.dumps(document["classes"]))
    classes[0]["pattern"] |= {"bolt_spacing_m": "wide", "row_spacing_m": None}
    file = site.folder / "import" / "revision-6.json"
    file.parent.mkdir()
    file.write_text(json.dumps({**document, "classes": classes}))
    hands.signed_in(ENGINEER)
    hands.go("standard")
    hands.tap("New revision", "What changed", "Take it from a file", "revision-6.json")
    hands.rest()
    refused = [it for it in rows(hands) if it.detail.startswith("refused at")]
    assert [it.verdict for it in refused] == ["rework", "rework"]
    assert not any("in quotes" in it.title for it in refused), "nobody sees the file here"
    assert faults_both_ways(hands.tablet) == []

    hands.tap("refused at Classes D1, pattern, row spacing")
    hands.rest()
    hands.sees("Row spacing: to be filled in")
    marked = {it.title for it in rows(hands) if it.verdict}
    assert {"Bolt spacing: wide m", "Row spacing: to be filled in"} <= marked
    assert "Bolts per row: 9" not in marked
    assert faults_both_ways(hands.tablet) == []
    hands.tap("Return")
    pattern = next(it for it in rows(hands) if it.title == "Pattern")
    assert (pattern.verdict, pattern.detail.startswith("2 refused · ")) == ("rework", True)
    assert faults_both_ways(hands.tablet) == []
    assert hands.tablet.find_all(DriveMap) == [], "not the pattern of the revision before"
    assert any("No pattern is drawn until it can be read." in it for it in hands.tablet.texts())
    hands.tap("Undo")
    hands.rest()
    assert hands.tablet.find_all(DriveMap) != []
    hands.sees("0 changed")
