"""What was seen of a section at one time: last time's beside this time's."""

from kivy.properties import BooleanProperty, ListProperty, NumericProperty, StringProperty
from kivy.uix.behaviors import ButtonBehavior
from kivy.uix.boxlayout import BoxLayout

from fieldapp.ui.paired import PairedWidget
from fieldapp.ui.widgets.fitting_words import FittingWords
from fieldapp.ui.widgets.words import Words

__all__ = ["FittingWords", "SeenCard", "Words"]


class SeenCard(ButtonBehavior, PairedWidget, BoxLayout):
    """When it was, and as much of what was seen as there is room for; a touch asks for all."""

    title = StringProperty()
    told = ListProperty()
    """Ways to say what was seen, the longest first."""
    room = NumericProperty(2)
    """How many lines there are."""
    is_now = BooleanProperty(False)
    """Of this time: its edge is lit."""
