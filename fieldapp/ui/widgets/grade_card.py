"""One step of a card of the standard: what it looks like, and the standard's own words."""

from functools import lru_cache
from typing import Any

from kivy.clock import Clock
from kivy.graphics.texture import Texture
from kivy.properties import ObjectProperty, StringProperty

from fieldapp.report.colours import Palette
from fieldapp.report.grade_marks import damage_mark, rust_mark
from fieldapp.report.mark_pixels import mark_picture
from fieldapp.ui import theme
from fieldapp.ui.theme import look
from fieldapp.ui.widgets.touchable import Touchable
from fieldapp.ui.widgets.words import Words
from fieldapp.work.asked import Picture

__all__ = ["GradeCard", "Words"]

SIDE = theme.mm(17)


class GradeCard(Touchable):
    """A key with a picture; without one it shows its words alone."""

    title = StringProperty()
    picture: Any = ObjectProperty(None, allownone=True)
    texture: Any = ObjectProperty(None, allownone=True)

    def __init__(self, **kwargs: Any) -> None:
        self._redraw = Clock.create_trigger(self._redraw_now, -1)
        super().__init__(**kwargs)
        self.fbind("picture", self._redraw)
        self._redraw()

    def recolour(self) -> None:
        super().recolour()
        self._redraw()

    def _redraw_now(self, _elapsed: float) -> None:
        self.texture = card_texture(self.picture, look.palette) if self.picture else None


@lru_cache(maxsize=32)
def card_texture(picture: Picture, palette: Palette) -> Texture:
    """Draw a step as a texture; every card of it shares the one."""
    if picture.of == "rust":
        shape = rust_mark(picture.step)
    else:
        shape = damage_mark(picture.step, picture.steps)
    drawn = mark_picture(shape, SIDE, palette)
    texture = Texture.create(size=drawn.size, colorfmt="rgba")
    texture.flip_vertical()
    texture.blit_buffer(drawn.tobytes(), colorfmt="rgba", bufferfmt="ubyte")
    return texture
