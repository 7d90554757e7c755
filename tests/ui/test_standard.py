"""What is demanded, on pages: every line of the standard is reached, none is cut."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from fieldapp.assess.standard_words import Line, Section, class_in_words, mine_in_words
from fieldapp.ui.standard_pages import pages
from fieldapp.ui.theme import look
from fieldapp.ui.widgets.demands import DemandRow
from fieldapp.work.standard_in_force import in_force
from tests.ui.harness import LANDSCAPE, PORTRAIT, Tablet
from tests.ui.mine import Hands, at_a_mine, at_the_demo, no_headings
from tests.ui.uilint import faults, faults_both_ways

pytestmark = pytest.mark.window

both_ways = pytest.mark.parametrize("size", [LANDSCAPE, PORTRAIT], ids=["landscape", "portrait"])


@pytest.fixture
def hands(tablet: Tablet, tmp_path: Path) -> Iterator[Hands]:
    with at_the_demo(tablet, tmp_path) as hands:
        hands.signed_in()
        hands.tap("Standard")
        yield hands


def turned_through(hands: Hands) -> list[str]:
    """Give every demand in the order of the pages; fail at what is cut."""
    found: list[str] = []
    while True:
        hands.tablet.settle()
        rows = hands.tablet.find_all(DemandRow)
        found += [
            row.demanded for row in sorted(rows, key=lambda row: -row.to_window(0, row.y)[1])
        ]
        assert faults(hands.tablet) == []
        if hands.tablet.find("Down").disabled:
            return found
        hands.tap("Down")


def told(sections: tuple[Section, ...]) -> list[str]:
    return [line.demanded for section in sections for line in section.lines]


@both_ways
def test_every_demand_of_a_class_is_on_some_page(hands: Hands, size: tuple[int, int]) -> None:
    hands.tablet.turn(size)
    standard = in_force(hands.site, hands.clock()).body

    assert turned_through(hands) == told(class_in_words(standard.classes[0]))


@both_ways
def test_what_holds_in_the_whole_mine_is_on_some_page(hands: Hands, size: tuple[int, int]) -> None:
    hands.tablet.turn(size)
    hands.tap("Whole mine")
    standard = in_force(hands.site, hands.clock()).body

    assert turned_through(hands) == told(mine_in_words(standard))


def test_a_heading_shows_its_own_class(hands: Hands) -> None:
    hands.go("standard", heading_id=hands.heading_id("4155 Junction"))

    assert "Class W3" in hands.tablet.texts()


def test_another_class_is_two_touches_away(hands: Hands) -> None:
    hands.tablet.touches = 0
    hands.tap("Class D1", "Class O2")

    assert hands.tablet.touches == 2
    assert "Class O2" in hands.tablet.texts()
    assert any("chain" in row.demanded for row in hands.tablet.find_all(DemandRow)) or (
        "Ore drive, tensioned bolts and chain-link mesh" in hands.tablet.texts()
    )


def test_a_demand_names_its_breach_and_its_reason(hands: Hands) -> None:
    while not (found := [
        row
        for row in hands.tablet.find_all(DemandRow)
        if row.demanded == "No two neighbouring bolts are missing."
    ]):  # fmt: skip
        hands.tap("Down")

    assert (found[0].verdict, found[0].breach, found[0].because) == (
        "no entry",
        "no entry",
        "S-2, 5.3",
    )


def test_a_mine_without_a_standard_says_who_adopts_one(tablet: Tablet, tmp_path: Path) -> None:
    with at_a_mine(tablet, tmp_path, no_headings) as hands:
        hands.signed_in()
        hands.tap("Standard")

        assert any("No support standard is in force" in text for text in tablet.texts())
        assert faults(tablet) == []


def test_the_bright_standard_has_no_fault(hands: Hands) -> None:
    look.use("bright")
    hands.tap("Whole mine")

    assert faults_both_ways(hands.tablet) == []


def lines(count: int) -> tuple[Line, ...]:
    return tuple(Line(f"line {number}") for number in range(count))


def test_pages_hold_what_has_room_and_a_title_goes_on() -> None:
    set_pages = pages([Section("Bolts", lines(5))], lambda _line: 10, title_height=5, room=30)

    # a title and two lines fill 25 of 30
    assert [[len(block.lines) for block in page] for page in set_pages] == [[2], [2], [1]]
    assert [page[0].goes_on for page in set_pages] == [False, True, True]


def test_a_title_never_stands_alone_at_the_foot_of_a_page() -> None:
    sections = [Section("Bolts", lines(2)), Section("Mesh", lines(1))]

    first, second = pages(sections, lambda _line: 10, title_height=5, room=35)

    assert [block.title for block in first] == ["Bolts"]
    assert [(block.title, block.goes_on) for block in second] == [("Mesh", False)]


def test_a_line_that_is_taller_than_a_page_still_gets_one() -> None:
    set_pages = pages([Section("Bolts", lines(2))], lambda _line: 50, title_height=5, room=30)

    assert [len(page[0].lines) for page in set_pages] == [1, 1]
