"""A value chip: one value that is picked by one touch."""

from kivy.properties import StringProperty

from fieldapp.ui.widgets.touchable import Touchable
from fieldapp.ui.widgets.words import Words

__all__ = ["Chip", "Words"]


class Chip(Touchable):
    """A chip with a large value and, where it helps, a small line with the unit."""

    value = StringProperty()
    unit = StringProperty()
