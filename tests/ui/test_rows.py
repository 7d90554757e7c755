"""Rows, lists, sheets and headers under a finger."""

import pytest
from kivy.uix.widget import Widget

from fieldapp.ui import theme
from fieldapp.ui.density import BadPixelsPerInch
from fieldapp.ui.theme import look
from fieldapp.ui.widgets.finding_row import FindingRow
from fieldapp.ui.widgets.header import Header
from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.message_panel import MessagePanel
from fieldapp.ui.widgets.paged_grid import PagedGrid
from fieldapp.ui.widgets.paged_list import PagedList
from fieldapp.ui.widgets.sheet import Sheet
from tests.ui.harness import LANDSCAPE, PORTRAIT, Tablet
from tests.ui.laid_out import column, heard

pytestmark = pytest.mark.window


def rows_of(count: int, told: list[object]) -> PagedList:
    def row(item: int) -> FindingRow:
        return FindingRow(title=f"row {item}", on_release=lambda _: told.append(item))

    return PagedList(items=range(count), make_row=row, empty="Nothing was found.")


def test_a_list_is_turned_by_keys(tablet: Tablet) -> None:
    told: list[object] = []
    tablet.show(rows_of(20, told))

    first = [text for text in tablet.texts() if text.startswith("row")]
    tablet.tap("Down")
    second = [text for text in tablet.texts() if text.startswith("row")]

    # 800 px hold 7 rows of 89 px with 18 px between: 7 × 89 + 6 × 18 = 731
    assert first == [f"row {number}" for number in range(7)]
    assert second == [f"row {number}" for number in range(7, 14)]
    assert "2 of 3" in tablet.texts()


def test_only_rows_in_sight_exist(tablet: Tablet) -> None:
    tablet.show(rows_of(50_000, []))

    assert len(tablet.find_all(FindingRow)) == 7


def fill(row: FindingRow, item: int) -> None:
    row.title = f"row {item}"


def test_filled_rows_are_the_same_widgets_with_other_items(tablet: Tablet) -> None:
    told: list[object] = []
    rows = rows_of(20, [])
    rows.fill_row = fill
    rows.bind(on_row=heard(told))
    tablet.show(rows)
    before = tablet.find_all(FindingRow)

    tablet.tap("Down")
    tablet.tap("row 9")

    assert tablet.find_all(FindingRow) == before
    assert told == [9]


def test_the_last_page_has_no_rows_of_the_page_before(tablet: Tablet) -> None:
    rows = rows_of(20, [])
    rows.fill_row = fill
    tablet.show(rows)

    tablet.tap("Down")
    tablet.tap("Down")
    on_last = [text for text in tablet.texts() if text.startswith("row")]
    tablet.tap("Up")

    assert on_last == [f"row {number}" for number in range(14, 20)]
    assert len(tablet.find_all(FindingRow)) == 7


def test_a_list_that_shrank_shows_its_last_page(tablet: Tablet) -> None:
    rows = rows_of(20, [])
    tablet.show(rows)
    rows.turn(2)
    tablet.settle()

    rows.items = range(3)
    tablet.settle()

    assert "row 0" in tablet.texts()
    assert "Down" not in tablet.texts()


def test_an_empty_list_says_so(tablet: Tablet) -> None:
    tablet.show(rows_of(0, []))

    assert "Nothing was found." in tablet.texts()


def test_a_sheet_keeps_touches_from_what_lies_below(tablet: Tablet) -> None:
    told: list[object] = []
    below = Key(title="Undo", on_release=told.append)
    sheet = Sheet(title="Are you sure?")
    tablet.show(column(below, Widget()), sheet)

    tablet.tap(tablet.place_of(below))
    assert told == []
    sheet.close()
    tablet.tap(below)

    assert told == [below]


def test_a_sheet_tells_that_it_has_gone(tablet: Tablet) -> None:
    told: list[object] = []
    sheet = Sheet(title="Are you sure?", on_closed=told.append)
    sheet.add_widget(Key(title="Return", on_release=lambda _: sheet.close()))
    tablet.show()
    sheet.open()
    tablet.settle()

    tablet.tap("Return")

    assert told == [sheet]
    assert "Are you sure?" not in tablet.texts()


def test_the_key_of_the_header_leads_out(tablet: Tablet) -> None:
    told: list[object] = []
    tablet.show(column(Header(way_out="Board", on_leave=told.append), Widget()))

    tablet.tap("Board")

    assert len(told) == 1


def test_a_header_without_a_way_out_has_no_key(tablet: Tablet) -> None:
    tablet.show(column(Header(title="Shift board"), Widget()))

    assert tablet.find_all(Key) == []


@pytest.mark.parametrize("size", [(1280, 800), PORTRAIT])
def test_the_badge_of_the_mine_is_on_header_and_sheet(
    tablet: Tablet, size: tuple[int, int]
) -> None:
    tablet.turn(size)
    sheet = Sheet(title="Plate gap")
    tablet.show(column(Header(title="Shift board"), Widget()), sheet)

    on_sheet = tablet.texts(sheet)

    assert tablet.texts().count("DEMO – Wrenfall mine") == 2
    assert "DEMO – Wrenfall mine" in on_sheet


def test_a_real_mine_has_no_badge(tablet: Tablet) -> None:
    look.badge = ""
    tablet.show(column(Header(title="Shift board"), Widget()))

    assert tablet.texts() == ["Shift board"]


def test_a_trouble_is_told_in_three_sentences(tablet: Tablet) -> None:
    panel = MessagePanel()
    tablet.show(column(panel, Widget()))
    trouble = BadPixelsPerInch(ppi="1490")

    panel.tell(trouble)
    tablet.settle()

    assert tuple(tablet.texts()) == trouble.sentences()


def test_the_page_keys_move_below_the_rows_when_the_tablet_is_turned(tablet: Tablet) -> None:
    rows = rows_of(20, [])
    tablet.show(rows)

    tablet.turn(PORTRAIT)
    below = tablet.find("Down")
    least = min(row.y for row in tablet.find_all(FindingRow))
    tablet.turn(LANDSCAPE)
    beside = tablet.find("Down")
    rightmost = max(row.right for row in tablet.find_all(FindingRow))

    assert below.height == theme.TOUCH
    assert least >= below.top + theme.GAP - 1
    assert beside.x >= rightmost + theme.GAP - 1


def test_a_grid_has_as_many_columns_as_fit_and_turns_by_pages(tablet: Tablet) -> None:
    told: list[object] = []
    grid = PagedGrid(
        cells=range(30),
        make_cell=lambda cell: Key(title=f"key {cell}", tall=True, on_release=heard(told)),
    )
    tablet.show(grid)
    in_landscape = grid.columns
    shown = [text for text in tablet.texts() if text.startswith("key ")]

    tablet.tap("Down")
    tablet.tap("key 29")
    tablet.turn(PORTRAIT)

    # 60 mm is 354 px: three of them and two gaps of 18 px fit into 1280 px, two into 800 px
    assert (in_landscape, grid.columns) == (3, 2)
    assert shown == [f"key {cell}" for cell in range(18)]
    assert len(told) == 1
