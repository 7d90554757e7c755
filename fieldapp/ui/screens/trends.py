"""Trends: everything that is followed over the months, with its newest value and its course."""

from functools import partial
from typing import Any

from kivy.properties import ListProperty, NumericProperty, ObjectProperty, StringProperty

from fieldapp.ui.one_by_one import OneByOne
from fieldapp.ui.paired import PairedScreen
from fieldapp.ui.translate import _
from fieldapp.ui.trend_work import MeasureLine, Places, measure_line, places, remember_rounds
from fieldapp.ui.widgets.caution_line import CautionLine
from fieldapp.ui.widgets.header import Header
from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.key_row import KeyRow
from fieldapp.ui.widgets.paged_list import PagedList
from fieldapp.ui.widgets.stated_row import StatedRow
from fieldapp.work.trends import MEASURES

__all__ = ["CautionLine", "Header", "Key", "KeyRow", "PagedList", "StatedRow", "TrendsScreen"]


class TrendsScreen(PairedScreen):
    """A line for each measure. They are worked out one after the other: others wait no longer."""

    lines = ListProperty()
    subtitle = StringProperty(_("no verdict, never by name"))
    row_height = NumericProperty()
    make_row: Any = ObjectProperty(None, allownone=True)
    fill_row: Any = ObjectProperty(None, allownone=True)

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self._looks: OneByOne[Places | MeasureLine | None] = OneByOne(self.shell, self._take)
        self.make_row, self.fill_row = self._make_row, self._fill

    def opened(self) -> None:
        """Work every line out anew; what was known stands meanwhile."""
        known = {it.key: it for it in self.lines}
        self.lines = [known.get(it.key, MeasureLine(it.key, _(it.title))) for it in MEASURES]
        self._looks.begin([partial(places, self.shell.site)])

    def touched(self, line: MeasureLine) -> None:
        """Go to the chart of a measure."""
        self.shell.open("trend", key=line.key)

    def on_leave(self) -> None:
        """Work nothing out for a screen that is not in sight."""
        self._looks.stop()

    def _take(self, found: Places | MeasureLine | None) -> None:
        site = self.shell.site
        if isinstance(found, Places):
            self._looks.add(partial(remember_rounds, site, it) for it in found.ids)
            self._looks.add(partial(measure_line, site, it) for it in MEASURES)
        elif found is not None:
            self.lines = [found if it.key == found.key else it for it in self.lines]

    def _make_row(self, line: MeasureLine) -> StatedRow:
        row = StatedRow(role="ordinary")
        self._fill(row, line)
        return row

    def _fill(self, row: StatedRow, line: MeasureLine) -> None:
        row.title, row.detail, row.height = line.title, line.detail, self.row_height
