"""What a camera sees now, and over it, half transparent, what it saw last time."""

from typing import Any

from kivy.graphics.texture import Texture
from kivy.properties import ListProperty, NumericProperty, ObjectProperty
from kivy.uix.stencilview import StencilView

from fieldapp.ui.paired import PairedWidget
from fieldapp.work.photo.sources import Frame

Place = list[float]


class LiveView(PairedWidget, StencilView):
    """Shows one frame after the other; `ghost` lies over it, as clear as `ghost_pct` says.

    Both share one middle and one scale: whoever moves until the edges agree stands where the
    old photo was taken from.
    """

    texture: Any = ObjectProperty(None, allownone=True)
    ghost: Any = ObjectProperty(None, allownone=True)
    ghost_pct = NumericProperty(0)
    live_place = ListProperty([0, 0, 0, 0])
    ghost_place = ListProperty([0, 0, 0, 0])
    """From the left and the bottom, width, height, in pixels of the glass."""

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        for name in ("pos", "size", "texture", "ghost"):
            self.fbind(name, self._lay)

    def show(self, frame: Frame) -> None:
        """Show the next frame. Only on the main thread; it takes a fraction of a frame's time."""
        if self.texture is None or tuple(self.texture.size) != frame.size:
            texture = Texture.create(size=frame.size, colorfmt="rgb")
            texture.flip_vertical()
            self.texture = texture
        self.texture.blit_buffer(frame.rgb, colorfmt="rgb", bufferfmt="ubyte")
        self.canvas.ask_update()

    def _lay(self, *_: object) -> None:
        if self.texture is None:
            return
        wide, high = self.texture.size
        scale = min(self.width / wide, self.height / high)
        self.live_place = self._about_middle(wide * scale, high * scale)
        if self.ghost is not None:
            self.ghost_place = self._about_middle(*over(self.live_place[2:], self.ghost.size))

    def _about_middle(self, wide: float, high: float) -> Place:
        return [self.center_x - wide / 2, self.center_y - high / 2, wide, high]


def over(live: Any, old: Any) -> tuple[float, float]:
    """Give how large an old photo lies over a live picture, both by width and height.

    Lenses see alike along the longer edge, whatever they cut off above and below. An old photo
    that lies the other way is shown whole.
    """
    (wide, high), (old_wide, old_high) = live, old
    lie_alike = (wide >= high) == (old_wide >= old_high)
    across, down = wide / old_wide, high / old_high
    longer = across if wide >= high else down
    scale = longer if lie_alike else min(across, down)
    return old_wide * scale, old_high * scale
