"""Words that say as much as there is room for, on one line or on a few."""

from kivy.properties import ListProperty, NumericProperty

from fieldapp.ui import theme
from fieldapp.ui.widgets.words import SHORTENING_MARGIN, Words, extent, fits

RAGGED = 0.85
"""What of a line words fill at least, where they are broken into several."""


class FittingWords(Words):
    """Shows the first of several ways to say something that has room, the longest first.

    The room is so many lines; or, where it is said, a height [px].
    """

    choices = ListProperty()
    room = NumericProperty(0)

    def __init__(self, **kwargs: object) -> None:
        super().__init__(**kwargs)
        self.fbind("choices", self._choose)
        self.fbind("width", self._choose)
        self.fbind("lines", self._choose)
        self.fbind("room", self._choose)
        self._choose()

    def _choose(self, *_: object) -> None:
        shortest = self.choices[-1] if self.choices else ""
        self.text = next(filter(self._has_room, self.choices), shortest)

    def _has_room(self, text: str) -> bool:
        kind = (theme.font_for(text), bool(self.bold))
        if self.room:
            return fits(text, kind, theme.SMALLEST_TEXT, (int(self.width), int(self.room)))
        width = self.width if self.lines == 1 else self.lines * self.width * RAGGED
        return extent(text, kind, theme.SMALLEST_TEXT)[0] + SHORTENING_MARGIN <= width
