"""One place in which two revisions differ: where it is, and what each side says."""

from kivy.properties import BooleanProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout

from fieldapp.ui.paired import PairedWidget
from fieldapp.ui.widgets.words import Words

__all__ = ["DifferenceRow", "Words"]


class DifferenceRow(PairedWidget, BoxLayout):
    """The place above, the two sides beside each other below it; `strong` heads the columns."""

    where = StringProperty()
    left_words = StringProperty()
    right_words = StringProperty()
    strong = BooleanProperty(False)
