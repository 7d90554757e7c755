"""Words on the map: white textures, tinted where they are drawn."""

from functools import lru_cache

from kivy.core.text import Label
from kivy.graphics.texture import Texture

from fieldapp.ui import theme


@lru_cache(maxsize=512)
def word_texture(text: str, size: int = theme.SMALL_TEXT, *, bold: bool = False) -> Texture:
    """Draw words in white; the same words share one texture."""
    label = Label(
        text=text,
        font_name=theme.font_for(text),
        font_size=size,
        bold=bold,
        halign="center",
        color=(1, 1, 1, 1),
    )
    label.refresh()
    return label.texture
