"""A part of a heading and the state that holds there, to be read from a step away."""

from kivy.properties import StringProperty
from kivy.uix.boxlayout import BoxLayout

from fieldapp.ui.paired import PairedWidget
from fieldapp.ui.widgets.mark import Mark
from fieldapp.ui.widgets.words import Words

__all__ = ["Mark", "StretchCard", "Words"]


class StretchCard(PairedWidget, BoxLayout):
    """The mark, where it holds, the state in large words, and until when."""

    verdict = StringProperty()
    where = StringProperty()
    state = StringProperty()
    detail = StringProperty()
