"""The mark of a verdict, at any size."""

from functools import lru_cache

from kivy.clock import Clock
from kivy.graphics.texture import Texture
from kivy.properties import ObjectProperty, OptionProperty
from kivy.uix.widget import Widget

from fieldapp.report.colours import Palette
from fieldapp.report.mark_pixels import mark_picture
from fieldapp.report.marks import VERDICT_MARKS
from fieldapp.ui.paired import PairedWidget
from fieldapp.ui.theme import look


class Mark(PairedWidget, Widget):
    """Shape and colour of a verdict; the word stands beside it. An empty verdict draws nothing."""

    verdict = OptionProperty("", options=["", *VERDICT_MARKS])
    texture = ObjectProperty(None, allownone=True)

    def __init__(self, **kwargs: object) -> None:
        self._redraw = Clock.create_trigger(self._redraw_now, -1)
        super().__init__(**kwargs)
        self.fbind("verdict", self._redraw)
        self.fbind("size", self._redraw)
        look.paints(self)
        self._redraw()

    def recolour(self) -> None:
        self._redraw()

    def _redraw_now(self, _elapsed: float) -> None:
        side = int(min(self.size))
        wanted = self.verdict and side > 0
        self.texture = mark_texture(self.verdict, side, look.palette) if wanted else None


@lru_cache(maxsize=64)
def mark_texture(verdict: str, side_px: int, palette: Palette) -> Texture:
    """Draw a verdict's mark as a texture; lists share it."""
    picture = mark_picture(VERDICT_MARKS[verdict], side_px, palette)
    texture = Texture.create(size=picture.size, colorfmt="rgba")
    texture.flip_vertical()
    texture.blit_buffer(picture.tobytes(), colorfmt="rgba", bufferfmt="ubyte")
    return texture
