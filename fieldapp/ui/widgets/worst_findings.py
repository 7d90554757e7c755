"""The worst findings beside the map, as many as there is room for, and how many more."""

from kivy.clock import Clock
from kivy.properties import ListProperty, NumericProperty, StringProperty
from kivy.uix.gridlayout import GridLayout

from fieldapp.report.words.lengths import limit_words, measured_words
from fieldapp.ui import theme
from fieldapp.ui.paired import PairedWidget
from fieldapp.ui.translate import _, counted
from fieldapp.ui.widgets.finding_row import FindingRow
from fieldapp.ui.widgets.mark import Mark
from fieldapp.ui.widgets.touchable import Touchable
from fieldapp.ui.widgets.words import Words
from schemas.findings import Finding

__all__ = ["FindingRow", "Mark", "MoreRow", "Words", "WorstFindings"]


class MoreRow(Touchable):
    """What is not shown: how many more findings, and how many are accepted."""

    verdict = StringProperty()
    words = StringProperty()


class WorstFindings(PairedWidget, GridLayout):
    """Shows findings in columns, the worst first; the last cell leads to all of them.

    A touch fires `on_finding` with its finding, or `on_more`. Rows that stay are filled anew,
    so that a finger on one of them is not interrupted.
    """

    findings = ListProperty()
    accepted = NumericProperty(0)
    units = StringProperty("metres")

    __events__ = ("on_finding", "on_more")

    def __init__(self, **kwargs: object) -> None:
        self._refill = Clock.create_trigger(self._refill_now, -1)
        self._told: list[FindingRow] = []
        self._more = MoreRow()
        super().__init__(**kwargs)
        self._more.bind(on_release=lambda *_args: self.dispatch("on_more"))
        for name in ("findings", "accepted", "size", "cols"):
            self.fbind(name, self._refill)

    def on_finding(self, finding: Finding) -> None:
        """Told which finding was touched."""

    def on_more(self) -> None:
        """Told that all of them are wanted."""

    @property
    def _cells(self) -> int:
        lines = int((self.height + theme.GAP) // (theme.TOUCH + theme.GAP))
        return max(1, lines * (self.cols or 1))

    def _refill_now(self, _elapsed: float) -> None:
        shown = self.findings[: self._cells - 1]
        hidden = self.findings[len(shown) :]
        self._make_rows(len(shown))
        for row, finding in zip(self._told, shown, strict=True):
            self._tell(row, finding)
        self._more.verdict = hidden[0].verdict.value if hidden else "accept"
        self._more.words = _more_words(len(hidden), int(self.accepted), shown=bool(shown))
        self._more.opacity = 1 if self.findings or self.accepted else 0
        self._more.disabled = not self._more.opacity

    def _tell(self, row: FindingRow, finding: Finding) -> None:
        row.finding = finding
        row.verdict = finding.verdict.value
        row.title = _(finding.title)
        row.measured = _(measured_words(finding, self.units) or finding.verdict.value)
        row.limit = _(limit_words(finding, self.units)) if finding.measured else ""

    def _make_rows(self, count: int) -> None:
        if len(self._told) == count and self._more.parent is self:
            return
        self.clear_widgets()
        for _number in range(len(self._told), count):
            row = FindingRow()
            row.bind(on_release=lambda row: self.dispatch("on_finding", row.finding))
            self._told.append(row)
        del self._told[count:]
        for row in (*self._told, self._more):
            self.add_widget(row)


def _more_words(hidden: int, accepted: int, *, shown: bool) -> str:
    parts = []
    if hidden and shown:
        parts.append(_("{n} more").format(n=hidden))
    elif hidden:
        parts.append(counted("{} finding", "{} findings", hidden))
    if accepted:
        parts.append(_("{n} accepted").format(n=accepted))
    return ", ".join(parts)
