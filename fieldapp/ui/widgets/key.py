"""A key: one act, named by a word or two, with a small second line where it helps."""

from kivy.properties import BooleanProperty, NumericProperty, StringProperty

from fieldapp.ui import theme
from fieldapp.ui.widgets.touchable import Touchable
from fieldapp.ui.widgets.words import Words

__all__ = ["Key", "Words"]


class Key(Touchable):
    """A key. `tall` makes it a main action's height; otherwise the least that a glove hits."""

    title = StringProperty()
    title_size = NumericProperty(theme.KEY_TEXT)
    second = StringProperty()
    tall = BooleanProperty(False)
