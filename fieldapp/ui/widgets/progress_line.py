"""How far something is: a bar, and below it in words what is done and what is left."""

from kivy.properties import BoundedNumericProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout

from fieldapp.ui.paired import PairedWidget
from fieldapp.ui.widgets.words import Words

__all__ = ["ProgressLine", "Words"]


class ProgressLine(PairedWidget, BoxLayout):
    """The bar is there as long as there are words; its part says how much is done, 0 to 1."""

    words = StringProperty()
    part = BoundedNumericProperty(0, min=0, max=1)
