"""One line that says as much as there is room for."""

from kivy.properties import ListProperty

from fieldapp.ui import theme
from fieldapp.ui.widgets.words import SHORTENING_MARGIN, Words, extent


class FittingWords(Words):
    """Shows the first of several ways to say something that fits its width, the longest first."""

    choices = ListProperty()

    def __init__(self, **kwargs: object) -> None:
        super().__init__(**kwargs)
        self.fbind("choices", self._choose)
        self.fbind("width", self._choose)
        self._choose()

    def _choose(self, *_: object) -> None:
        shortest = self.choices[-1] if self.choices else ""
        self.text = next(filter(self._has_room, self.choices), shortest)

    def _has_room(self, text: str) -> bool:
        kind = (theme.font_for(text), bool(self.bold))
        return extent(text, kind, theme.SMALLEST_TEXT)[0] + SHORTENING_MARGIN <= self.width
