"""A caution: one fixed line where it matters. It never pops up and never goes away."""

from kivy.properties import BooleanProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout

from fieldapp.ui.paired import PairedWidget
from fieldapp.ui.widgets.words import Words

__all__ = ["CautionLine", "Words"]


class CautionLine(PairedWidget, BoxLayout):
    """A caution's sentence, on one line, or on two where the screen is narrow.

    It takes no room while there is nothing to say. `strong` is for what holds entry back here
    and now, beside what always holds.
    """

    sentence = StringProperty()
    strong = BooleanProperty(False)
