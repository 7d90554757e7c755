"""Reports under a glove: chosen, written beside the screen, stopped by a key."""

import json
from collections.abc import Iterator
from pathlib import Path
from threading import Event

import pytest

from fieldapp.ui.report_sheet import ReportSheet
from fieldapp.work.damage.stating import record_damage
from sync.outcome import Progress, Stopped, Watcher
from tests.ui.at_damage import OPEN, a_tear
from tests.ui.harness import Tablet
from tests.ui.mine import Hands, at_the_demo
from tests.ui.uilint import faults_both_ways
from tests.unit.report.pages import reader_of

pytestmark = pytest.mark.window


@pytest.fixture
def hands(tablet: Tablet, tmp_path: Path) -> Iterator[Hands]:
    with at_the_demo(tablet, tmp_path) as hands:
        record_damage(hands.site, a_tear(hands), None)
        hands.signed_in()
        yield hands


def is_written(hands: Hands) -> bool:
    return any(it.startswith("Written: ") for it in hands.tablet.texts())


def test_the_rehab_list_a_heading_and_the_month_are_written_where_sheets_are(
    hands: Hands,
) -> None:
    hands.go("rehab_list")
    hands.tap("Reports")
    assert faults_both_ways(hands.tablet) == []
    hands.tap("Rehab list")
    assert faults_both_ways(hands.tablet) == []
    hands.tap("PDF")
    hands.rest()
    assert is_written(hands)
    assert faults_both_ways(hands.tablet) == []
    hands.tap("Return", "Reports", "One heading", OPEN)
    assert faults_both_ways(hands.tablet) == []
    hands.tap("PDF")
    hands.rest()
    hands.tap("Return", "Reports", "One round", OPEN)
    assert faults_both_ways(hands.tablet) == []
    hands.tap("Round 87", "Spreadsheet")
    hands.rest()
    hands.tap("Return", "Board", "Settings", "Reports", "Last month", "Spreadsheet")
    hands.rest()
    hands.tap("Return", "Reports", "This month", "JSON")
    hands.rest()
    assert is_written(hands)
    written = {it.name: it.read_bytes() for it in (hands.site.folder / "sheets").glob("*.*")}
    (round_file,) = set(written) - {
        "rehab-list.pdf", "4180-Main-history.pdf", "month-2031-05.json", "month-2031-04.xlsx"
    }  # fmt: skip

    assert round_file.endswith(".xlsx")
    assert json.loads(written["month-2031-05.json"])["month"] == "2031-05"
    assert "torn mesh" in reader_of(written["rehab-list.pdf"]).pages[0].extract_text()


def test_whoever_leaves_a_report_stops_it(hands: Hands) -> None:
    begun, left = Event(), Event()

    def write(watch: Watcher) -> Path | None:
        begun.set()
        left.wait(10)
        watch(Progress("gathering headings", 1, 40, 0, 1.0))
        raise AssertionError("it went on")

    def stopped(watch: Watcher) -> Path | None:
        try:
            return write(watch)
        except Stopped:
            return None

    sheet = ReportSheet(hands.shell, stopped)
    sheet.open()
    assert begun.wait(10)
    hands.tablet.tap("Stop")
    left.set()
    hands.rest()

    assert sheet.parent is None
