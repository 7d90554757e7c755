"""Words on the map: white textures, tinted where they are drawn."""

from functools import lru_cache

from kivy.core.text import Label
from kivy.graphics.texture import Texture

from fieldapp.ui import theme


@lru_cache(maxsize=512)
def word_texture(text: str, size: int = theme.SMALL_TEXT, *, bold: bool = False) -> Texture:
    """Draw words in white; the same words share one texture."""
    label = _label(text, size, bold=bold)
    label.refresh()
    return label.texture


def below_baseline(text: str, size: int, *, bold: bool = False) -> float:
    """Give how far a line of words reaches below its baseline."""
    return abs(float(_label(text, size, bold=bold).get_descent()))


def _label(text: str, size: int, *, bold: bool) -> Label:
    return Label(
        text=text,
        font_name=theme.font_for(text),
        font_size=size,
        bold=bold,
        halign="center",
        color=(1, 1, 1, 1),
    )
