"""Trends: everything that is followed over the months, with its newest value and its course."""

from functools import partial
from typing import Any

from kivy.properties import ListProperty, NumericProperty, ObjectProperty, StringProperty

from fieldapp.ui.paired import PairedScreen
from fieldapp.ui.translate import _
from fieldapp.ui.trend_work import MeasureLine, measure_line
from fieldapp.ui.widgets.caution_line import CautionLine
from fieldapp.ui.widgets.header import Header
from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.key_row import KeyRow
from fieldapp.ui.widgets.paged_list import PagedList
from fieldapp.ui.widgets.stated_row import StatedRow
from fieldapp.work.trends import MEASURES
from schemas.trouble import Trouble

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
        self._visit = 0
        self.make_row, self.fill_row = self._make_row, self._fill

    def opened(self) -> None:
        """Work every line out anew; what was known stands meanwhile."""
        known = {it.key: it for it in self.lines}
        self.lines = [known.get(it.key, MeasureLine(it.key, _(it.title))) for it in MEASURES]
        self._visit += 1
        self._look(self._visit, 0)

    def touched(self, line: MeasureLine) -> None:
        """Go to the chart of a measure."""
        self.shell.open("trend", key=line.key)

    def on_leave(self) -> None:
        """Work nothing out for a screen that is not in sight."""
        self._visit += 1

    def _look(self, visit: int, number: int) -> None:
        if visit == self._visit and number < len(MEASURES):
            job = partial(measure_line, self.shell.site, MEASURES[number])
            then = partial(self._take, visit, number)
            self.shell.do(job, then=then, on_trouble=self._not_known, lane="long")

    def _take(self, visit: int, number: int, line: MeasureLine) -> None:
        if visit == self._visit:
            self.lines = [*self.lines[:number], line, *self.lines[number + 1 :]]
            self._look(visit, number + 1)

    def _not_known(self, trouble: Trouble) -> None:
        self._visit += 1
        self.shell.say(trouble)

    def _make_row(self, line: MeasureLine) -> StatedRow:
        row = StatedRow(role="ordinary")
        self._fill(row, line)
        return row

    def _fill(self, row: StatedRow, line: MeasureLine) -> None:
        row.title, row.detail, row.height = line.title, line.detail, self.row_height
