"""One thing that holds entry back, with who said so and when."""

from kivy.properties import StringProperty

from fieldapp.ui.widgets.mark import Mark
from fieldapp.ui.widgets.touchable import Touchable
from fieldapp.ui.widgets.words import Words

__all__ = ["Mark", "StatedRow", "Words"]


class StatedRow(Touchable):
    """A row with a mark, what is stated, and the rest in small words.

    It looks like a key where a touch leads to something that can be done about it.
    """

    verdict = StringProperty()
    title = StringProperty()
    detail = StringProperty()
