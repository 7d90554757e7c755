"""A part of a heading and the state that holds there, to be read from a step away."""

from kivy.properties import ListProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout

from fieldapp.ui.paired import PairedWidget
from fieldapp.ui.widgets.fitting_words import FittingWords
from fieldapp.ui.widgets.mark import Mark
from fieldapp.ui.widgets.words import Words

__all__ = ["FittingWords", "Mark", "StretchCard", "Words"]


class StretchCard(PairedWidget, BoxLayout):
    """The mark, where it holds, the state in large words, and as many words of why as fit."""

    verdict = StringProperty()
    where = StringProperty()
    state = StringProperty()
    details = ListProperty()
    """Ways to say until when and why, the longest first."""
