"""Words that say as much as there is room for, on one line or on a few."""

from kivy.properties import ListProperty

from fieldapp.ui import theme
from fieldapp.ui.widgets.words import SHORTENING_MARGIN, Words, extent

RAGGED = 0.85
"""What of a line words fill at least, where they are broken into several."""


class FittingWords(Words):
    """Shows the first of several ways to say something that fits its lines, the longest first."""

    choices = ListProperty()

    def __init__(self, **kwargs: object) -> None:
        super().__init__(**kwargs)
        self.fbind("choices", self._choose)
        self.fbind("width", self._choose)
        self.fbind("lines", self._choose)
        self._choose()

    def _choose(self, *_: object) -> None:
        shortest = self.choices[-1] if self.choices else ""
        self.text = next(filter(self._has_room, self.choices), shortest)

    def _has_room(self, text: str) -> bool:
        kind = (theme.font_for(text), bool(self.bold))
        room = self.width if self.lines == 1 else self.lines * self.width * RAGGED
        return extent(text, kind, theme.SMALLEST_TEXT)[0] + SHORTENING_MARGIN <= room
