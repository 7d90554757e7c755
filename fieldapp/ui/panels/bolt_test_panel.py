"""One test of support that was made: what it came to, what it opened, and what can be done."""

from collections.abc import Callable

from kivy.properties import BooleanProperty, ListProperty, StringProperty

from fieldapp.ui.bolt_test_list import PullDrawn
from fieldapp.ui.bolt_test_work import ResultWords
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.pull_plot import PullPlot
from fieldapp.ui.widgets.rank_card import RankCard
from fieldapp.ui.widgets.sheet import Sheet
from fieldapp.ui.widgets.words import Words

__all__ = ["BoltTestPanel", "PullPlot", "RankCard", "Words"]


class BoltTestPanel(Sheet):
    """Tells the result, then what follows a line each; its keys go away with it and act."""

    outcome = StringProperty()
    because = StringProperty()
    verdict = StringProperty()
    reasons = ListProperty()
    follows = StringProperty()
    pulls = BooleanProperty(False)
    """Whether readings of a pull are drawn."""

    def __init__(self, title: str, note: str, result: ResultWords, follows: str) -> None:
        super().__init__(title=title, note=note, follows=follows)
        self.outcome, self.because = result.title, result.state
        self.verdict, self.reasons = result.verdict, result.reasons

    def draw(self, pull: PullDrawn | None) -> None:
        """Draw the readings of a pull."""
        plot, self.pulls = self.ids.plot, pull is not None
        if pull is None:
            plot.parent.remove_widget(plot)
        else:
            plot.points, plot.load_kn, plot.slip_mm = pull.points, pull.load_kn, pull.slip_mm

    def offer(self, label: str, act: Callable[[], None], second: str = "") -> None:
        """Add a key that closes the panel and acts."""
        key = Key(title=label, second=second, tall=True)
        key.bind(on_release=lambda *_args: self._act(act))
        self.add_widget(key)

    def open(self) -> None:
        """Lay it over the screen, with the way back."""
        key = Key(title=_("Return"), tall=True)
        key.bind(on_release=lambda *_args: self.close())
        self.add_widget(key)
        super().open()

    def _act(self, act: Callable[[], None]) -> None:
        self.close()
        act()
