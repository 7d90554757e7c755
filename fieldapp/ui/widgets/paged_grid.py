"""A list of keys in columns, turned by pages: as many beside each other as have room."""

from collections.abc import Callable, Sequence
from typing import Any

from kivy.properties import NumericProperty, ObjectProperty
from kivy.uix.boxlayout import BoxLayout
from kivy.uix.widget import Widget

from fieldapp.ui import theme
from fieldapp.ui.paired import PairedWidget
from fieldapp.ui.widgets.paged_list import PagedList


class CellRow(PairedWidget, BoxLayout):
    """Some cells beside each other; the last row keeps their width with empty places."""

    filled = NumericProperty(0)
    """How many cells stand in it."""


class PagedGrid(PagedList):
    """Shows `cells` in rows; `make_cell` turns one into its widget.

    Where `fill_cell` is given, it puts another cell into a widget that is there already, which
    is several times quicker. `least_mm` is the least width of a cell.
    """

    cells: Sequence[Any] = ObjectProperty(())
    make_cell: Callable[[Any], Widget] | None = ObjectProperty(None, allownone=True)
    fill_cell: Callable[[Widget, Any], None] | None = ObjectProperty(None, allownone=True)
    least_mm = NumericProperty(60)
    columns = NumericProperty(1)

    def __init__(self, **kwargs: object) -> None:
        super().__init__(**kwargs)
        self.make_row = self._row_of_cells
        for name in ("width", "cells", "make_cell", "least_mm"):
            self.fbind(name, self._lay_out)
        self.fbind("fill_cell", self._fill_rows)
        self._fill_rows()
        self._lay_out()

    def _fill_rows(self, *_: object) -> None:
        self.fill_row = self._fill_row_of_cells if self.fill_cell is not None else None

    def _fill_row_of_cells(self, row: CellRow, some: tuple[Any, ...]) -> None:
        """Put other cells into a row; one with another number of them is made anew."""
        if self.fill_cell is None or row.filled != len(some):
            row.clear_widgets()
            self._add_cells(row, some)
            return
        for widget, cell in zip(reversed(row.children), some, strict=False):
            self.fill_cell(widget, cell)

    def _lay_out(self, *_: object) -> None:
        least = theme.mm(self.least_mm) + theme.GAP
        self.columns = max(1, int((self.width + theme.GAP) // least))
        count = int(self.columns)
        starts = range(0, len(self.cells), count)
        made = self.make_cell is not None
        self.items = [tuple(self.cells[at : at + count]) for at in starts] if made else ()

    def _row_of_cells(self, some: tuple[Any, ...]) -> CellRow:
        row = CellRow(height=self.row_height)
        self._add_cells(row, some)
        return row

    def _add_cells(self, row: CellRow, some: tuple[Any, ...]) -> None:
        row.filled = len(some)
        if self.make_cell is not None:
            for cell in some:
                row.add_widget(self.make_cell(cell))
        for _empty in range(int(self.columns) - len(some)):
            row.add_widget(Widget())
