"""How soon a damage is repaired and who goes beneath it, to be read at a glance."""

from kivy.properties import ListProperty, NumericProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout

from fieldapp.ui.paired import PairedWidget
from fieldapp.ui.widgets.fitting_words import FittingWords
from fieldapp.ui.widgets.mark import Mark
from fieldapp.ui.widgets.words import Words

__all__ = ["FittingWords", "Mark", "RankCard", "Words"]


class RankCard(PairedWidget, BoxLayout):
    """The mark, priority and due date, entry beneath, and as many reasons as there is room for."""

    verdict = StringProperty()
    title = StringProperty()
    state = StringProperty()
    state_lines = NumericProperty(1)
    reasons = ListProperty()
    """Ways to say why, the longest first."""
