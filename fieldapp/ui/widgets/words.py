"""A line or a few lines of text that fit their box.

Names come from the mine, so no size is safe: text steps down to the smallest allowed size
before its end is cut off with an ellipsis.
"""

from functools import lru_cache
from math import inf

from kivy.clock import Clock
from kivy.core.text import Label as Letters
from kivy.properties import BooleanProperty, NumericProperty, ObjectProperty
from kivy.uix.label import Label

from fieldapp.ui import theme
from fieldapp.ui.paired import PairedWidget

Kind = tuple[str, bool]

SHORTENING_MARGIN = 2
"""Kivy shortens a line that leaves fewer pixels free than these."""

FIT_AGAIN_ON = (
    "text",
    "size",
    "asked",
    "lines",
    "bold",
    "font_name",
    "hug",
    "most",
    "tallest",
    "padding",
)


class Words(PairedWidget, Label):
    """Text in the app's letters.

    `asked` is the size it has where there is room; `hug` makes the box as wide as the text, but
    no wider than `most`; `tallest` makes the box as high as the text, but no higher; `ink`
    replaces the usual colour.
    """

    asked = NumericProperty(theme.BODY_TEXT)
    lines = NumericProperty(1)
    quiet = BooleanProperty(False)
    ink = ObjectProperty(None, allownone=True)
    hug = BooleanProperty(False)
    most = NumericProperty(inf)
    tallest = NumericProperty(0)

    def __init__(self, **kwargs: object) -> None:
        self._fit = Clock.create_trigger(self._fit_now, -1)
        super().__init__(**kwargs)
        for name in FIT_AGAIN_ON:
            self.fbind(name, self._fit)
        self._fit()

    def on_hug(self, _words: object, hug: bool) -> None:  # noqa: FBT001  Kivy calls it
        if hug:
            self.size_hint_x = None

    def on_tallest(self, _words: object, tallest: float) -> None:
        if tallest:
            self.size_hint_y = None

    def _fit_now(self, _elapsed: float) -> None:
        kind = (self.font_name, bool(self.bold))
        beside = self.padding[0] + self.padding[2]
        if self.hug:
            wanted = (
                extent(self.text, kind, int(self.asked))[0] + SHORTENING_MARGIN + beside
                if self.text
                else 0
            )
            self.width = min(wanted, self.most)
        box = (int(self.width - beside), int(self.tallest or self.height))
        self.font_size = fitting_size(self.text, kind, box, (int(self.asked), int(self.lines)))
        if self.tallest:
            needed = wrapped_height(self.text, kind, int(self.font_size), box[0])
            self.size = (self.width, min(needed, self.tallest) if self.text else 0)


@lru_cache(maxsize=2048)
def fitting_size(text: str, kind: Kind, box: tuple[int, int], wish: tuple[int, int]) -> int:
    """Give the largest size, from the one asked down to the smallest, at which `text` fits.

    One line a little smaller reads better than two.
    """
    asked, lines = wish
    one_line = (box[0], 0)
    least = theme.SMALLEST_TEXT if lines == 1 else max(theme.SMALLEST_TEXT, round(asked * 0.85))
    tries = [(size, one_line) for size in range(asked, least - 1, -1)]
    if lines > 1:
        tries += [(size, box) for size in range(asked, theme.SMALLEST_TEXT - 1, -1)]
    fitting = (size for size, space in tries if fits(text, kind, size, space))
    return next(fitting, min(asked, theme.SMALLEST_TEXT))


def fits(text: str, kind: Kind, size: int, box: tuple[int, int]) -> bool:
    """Tell whether text fits a box; a height of 0 asks for one line."""
    width, height = box
    if not height:
        return extent(text, kind, size)[0] + SHORTENING_MARGIN <= width
    if any(extent(word, kind, size)[0] > width for word in text.split()):
        return False
    return wrapped_height(text, kind, size, width) <= height


def extent(text: str, kind: Kind, size: int) -> tuple[int, int]:
    """Measure a single line."""
    letters = Letters(text=text, font_name=kind[0], bold=kind[1], font_size=size)
    width, height = letters.get_extents(text)
    return width, height


def wrapped_height(text: str, kind: Kind, size: int, width: int) -> int:
    """Measure the height of text wrapped to a width."""
    letters = Letters(
        text=text, font_name=kind[0], bold=kind[1], font_size=size, text_size=(width, None)
    )
    return int(letters.render()[1])
