"""One trend as a chart: months across, control limits named, and every point leads on."""

from functools import partial
from typing import Any
from zoneinfo import ZoneInfo

from kivy.properties import BooleanProperty, ObjectProperty, StringProperty

from fieldapp.report.trend_chart import InSight, TrendChart, all_in_sight, trend_chart
from fieldapp.report.words.findings import sentence
from fieldapp.ui.evidence_ways import EvidenceWays
from fieldapp.ui.one_by_one import OneByOne
from fieldapp.ui.paired import PairedScreen
from fieldapp.ui.panels.lines_panel import Line, LinesPanel
from fieldapp.ui.translate import _
from fieldapp.ui.trend_work import (
    BY,
    NOTHING,
    WORKING,
    Places,
    TrendPage,
    group_name,
    group_words,
    places,
    point_words,
    remember_rounds,
    series_words,
    stands_on,
    trend_page,
)
from fieldapp.ui.widgets.asking import KeySheet
from fieldapp.ui.widgets.caution_line import CautionLine
from fieldapp.ui.widgets.header import Header
from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.key_row import KeyRow
from fieldapp.ui.widgets.trend_plot import TrendPlot
from fieldapp.ui.widgets.words import Words
from fieldapp.work.trends import Grouping, Series, measure

__all__ = ["CautionLine", "Header", "Key", "KeyRow", "TrendPlot", "TrendScreen", "Words"]


class TrendScreen(PairedScreen):
    """One measure: how it is told apart, one group after the other, nearer or farther."""

    title = StringProperty()
    subtitle = StringProperty()
    nothing = StringProperty()
    """What stands in the chart's place: that it is being worked out, or that there is none."""
    said = StringProperty()
    by_words = StringProperty()
    place = StringProperty()
    """Which of the groups it is: "2 of 7"."""
    drawn: TrendChart | None = ObjectProperty(None, allownone=True)
    in_sight: InSight | None = ObjectProperty(None, allownone=True)
    has_several = BooleanProperty(False)

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self._looks: OneByOne[Places | TrendPage | None] = OneByOne(self.shell, self._take)
        self._ways = EvidenceWays(self.shell)
        self._page: TrendPage | None = None
        self._number = 0
        self._key = ""
        self._by: Grouping = "mine"

    def opened(self, key: str, by: Grouping = "mine") -> None:
        """Show a measure, told apart in some way; come back to it, the same group."""
        if (key, by) != (self._key, self._by):
            self._number = 0
        self._key, self._by = key, by
        self.title = _(measure(key).title)
        self._page = None
        self._wait()
        self._looks.begin([partial(places, self.shell.site)])

    def on_leave(self) -> None:
        """Work nothing out for a screen that is not in sight."""
        self._looks.stop()

    # --- what is looked at --------------------------------------------------------------------

    def ask_how_told_apart(self) -> None:
        """Ask by what the measure is told apart."""
        sheet = KeySheet(_("Told apart how?"), self.title)
        for by in self._page.ways if self._page else ():
            sheet.offer(BY[by], partial(self._tell_apart, by))
        sheet.open()

    def ask_group(self) -> None:
        """Ask which group, each with its newest value."""
        found = self._page.series if self._page else ()
        lines = [
            Line(group_name(it), group_words(it), partial(self._show, number))
            for number, it in enumerate(found)
        ]
        LinesPanel(_("Which one?"), self.title, lines).open()

    def turn(self, by: int) -> None:
        """Go to the group after this one, or before it; after the last comes the first."""
        if self._page is not None and self._page.series:
            self._show((self._number + by) % len(self._page.series))

    def look(self, way: str) -> None:
        """Look closer, wider, earlier or later."""
        if self.in_sight is not None:
            self.in_sight = getattr(self.in_sight, way)()
            self._draw()

    # --- from a point to what it stands on ----------------------------------------------------

    def touched(self, points: tuple[int, ...]) -> None:
        """Show what a point stands on; ask which one, where it isn't clear."""
        series = self._series
        if series is None:
            return
        if len(points) == 1:
            self._show_evidence(points[0])
            return
        lines = [
            Line(*point_words(series, it, self._zone), partial(self._show_evidence, it))
            for it in points
        ]
        LinesPanel(_("Which point?"), self.subtitle, lines).open()

    def _show_evidence(self, number: int) -> None:
        series = self._series
        if series is not None:
            title, _why = point_words(series, number, self._zone)
            note = stands_on(series, number)
            lines = [self._ways.line(it) for it in series.points[number].evidence]
            LinesPanel(title, note, lines).open()

    # --- inside -------------------------------------------------------------------------------

    @property
    def _zone(self) -> ZoneInfo:
        return ZoneInfo(self.shell.site.settings.zone)

    @property
    def _series(self) -> Series | None:
        return self._page.series[self._number] if self._page and self._page.series else None

    def _tell_apart(self, by: Grouping) -> None:
        self.shell.open("trend", key=self._key, by=by)

    def _wait(self) -> None:
        self.drawn, self.in_sight, self.has_several, self.said = None, None, False, ""
        self.nothing, self.subtitle, self.place = WORKING, "", ""
        self.by_words = BY[self._by]

    def _take(self, found: Places | TrendPage | None) -> None:
        site = self.shell.site
        if isinstance(found, Places):
            self._looks.add(partial(remember_rounds, site, it) for it in found.ids)
            self._looks.add([partial(trend_page, site, self._key, self._by)])
        elif found is not None:
            self._take_page(found)

    def _take_page(self, page: TrendPage) -> None:
        self._page = page
        self.has_several = len(page.series) > 1
        self.nothing = "" if page.series else sentence(NOTHING)
        self._show(min(self._number, max(len(page.series) - 1, 0)))

    def _show(self, number: int) -> None:
        self._number = number
        series = self._series
        if self._page is not None and series is not None:
            count = len(self._page.series)
            self.place = _("{n} of {count}").format(n=number + 1, count=count)
            self.subtitle = group_name(series)
            self.said = series_words(series, self._zone)
            self.in_sight = all_in_sight(series.points, self.shell.now(), self._zone)
            self._draw()

    def _draw(self) -> None:
        if self._series is not None and self.in_sight is not None:
            self.drawn = trend_chart(self._series, self.in_sight.shown, self._zone)
