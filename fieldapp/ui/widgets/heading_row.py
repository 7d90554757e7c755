"""One heading on the Shift board: how far people may go comes before how the round was."""

from kivy.properties import BooleanProperty, ListProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout

from fieldapp.ui.paired import PairedWidget
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.fitting_words import FittingWords
from fieldapp.ui.widgets.mark import Mark
from fieldapp.ui.widgets.touchable import Touchable
from fieldapp.ui.widgets.words import Words

__all__ = ["FittingWords", "HeadingRow", "HeadingTitles", "Mark", "Touchable", "Words"]


class HeadingTitles(PairedWidget, BoxLayout):
    """What the columns of the board are. Only a wide screen needs it."""

    wide = BooleanProperty(True)
    face = StringProperty(_("Face, m"))
    """The column of the faces; where they stand in feet, each says so itself."""


class HeadingRow(PairedWidget, BoxLayout):
    """A heading in two cards: its entry line, and the mark up to the face with the last round.

    A touch on the first fires `on_to_entry`, on the second `on_to_round`; `act` says in a word
    what the second does, and is empty where nothing waits. `beyond`, `last_round` and `reason`
    give several words for one thing, the longest first: what fits is shown.
    """

    heading = StringProperty()
    entry = StringProperty()
    beyond = ListProperty()
    verdict = StringProperty()
    last_round = ListProperty()
    reason = ListProperty()
    face = StringProperty()
    act = StringProperty()
    wide = BooleanProperty(True)

    __events__ = ("on_to_entry", "on_to_round")

    def on_to_entry(self) -> None:
        """Told when the entry line was touched."""

    def on_to_round(self) -> None:
        """Told when the round was touched."""
