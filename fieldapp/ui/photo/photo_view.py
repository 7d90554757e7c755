"""A photo on the glass: moved by one finger, made larger by two or by keys, tapped, drawn on."""

from math import hypot
from typing import Any

from kivy.clock import Clock
from kivy.graphics import Color, Rectangle
from kivy.graphics.instructions import InstructionGroup
from kivy.properties import BooleanProperty, ObjectProperty, OptionProperty
from kivy.uix.boxlayout import BoxLayout

from fieldapp.report.photo_shapes import At, Stroke
from fieldapp.ui import theme
from fieldapp.ui.drive.view import Ground, View, Window, fitted
from fieldapp.ui.paired import PairedWidget
from fieldapp.ui.photo.ink import paint
from fieldapp.ui.photo.loupe import LOUPE, Loupe
from fieldapp.ui.theme import look
from fieldapp.ui.widgets.key import Key

__all__ = ["LOUPE", "Key", "PhotoView"]

PARTS = 24.0
"""The drive's view counts metres and lets two fill the glass: a photo is so many of them wide,
so that it can be made twelve times larger."""
ZOOM_STEP = 1.6
SLOP = theme.mm(2.5)

Finger = Any
"""A touch as Kivy reports it; Kivy has no types."""


class PhotoView(PairedWidget, BoxLayout):
    """Shows `texture`, and `shapes` over it.

    `tool` says what one finger does: "look" moves the photo; "tap" chooses a place under a
    loupe and fires `on_tapped`; "draw" leaves a line and fires `on_drawn` with its path. Places
    are shares of the photo from its upper left corner. Two fingers always move and scale.
    """

    texture = ObjectProperty(None, allownone=True)
    shapes = ObjectProperty(())
    tool = OptionProperty("look", options=["look", "tap", "draw"])
    keys_below = BooleanProperty(False)
    view: Any = ObjectProperty(None, allownone=True)
    """The part of the photo in sight; None before there is one."""

    __events__ = ("on_tapped", "on_drawn")

    def __init__(self, **kwargs: object) -> None:
        self._fingers: dict[object, tuple[float, float]] = {}
        self._path: list[At] = []
        self._touched: At | None = None
        self._way = 0.0
        self._several = False
        self._repaint = Clock.create_trigger(self._repaint_now, -1)
        super().__init__(**kwargs)

    def on_kv_post(self, _base: object) -> None:
        # Inside another look the ids are not there before this.
        with self.ids.field.canvas:
            self._white = Color(1, 1, 1, 1)
            self._photo = Rectangle(size=(0, 0))
        self._ink, self._drawing = InstructionGroup(), InstructionGroup()
        self.ids.field.canvas.add(self._ink)
        self.ids.field.canvas.add(self._drawing)
        self._loupe = Loupe(self.canvas.after)
        self.fbind("texture", self._fit)
        self.fbind("shapes", self._repaint)
        self.ids.field.bind(pos=self._fit, size=self._fit)
        look.paints(self)
        self._fit()

    # --- what a sheet asks of it ------------------------------------------------------------

    @property
    def aspect(self) -> float:
        """Height of the photo over its width."""
        return float(self.texture.height / self.texture.width) if self.texture else 1.0

    @property
    def wide_px(self) -> float:
        """How wide all of the photo is now, in pixels of the glass."""
        return self.view.px_per_m * PARTS if self.view else 1.0

    def zoom_in(self) -> None:
        """Make the photo larger by a step, about the place that was touched last."""
        self._zoom(ZOOM_STEP)

    def zoom_out(self) -> None:
        """Make the photo smaller by a step."""
        self._zoom(1 / ZOOM_STEP)

    def show_all(self) -> None:
        """Show all of the photo again."""
        self.view = None
        self._fit()

    def at(self, pixel: tuple[float, float]) -> At:
        """Give the place of the photo that lies at a pixel of the glass, held inside it."""
        up, right = self.view.place(pixel)
        return _inside(right / PARTS), _inside(1 - up / (PARTS * self.aspect))

    def to_glass(self, at: At) -> tuple[float, float]:
        """Give the pixel of the glass at which a place of the photo lies."""
        return self.view.pixel((1 - at[1]) * PARTS * self.aspect, at[0] * PARTS)

    def on_tapped(self, at: At) -> None:
        """Told which place was tapped."""

    def on_drawn(self, path: tuple[At, ...]) -> None:
        """Told along which places a finger went."""

    # --- painting ---------------------------------------------------------------------------

    def recolour(self) -> None:
        self._repaint()

    def _fit(self, *_: object) -> None:
        field = self.ids.field
        if self.texture is None or min(field.size) < 1:
            return
        ground = Ground(0, PARTS * self.aspect, 0, PARTS)
        window = Window(field.x, field.y, field.width, field.height)
        if self.view is None or (self.view.ground, self.view.window) != (ground, window):
            self.view = fitted(ground, window)
        self._repaint()

    def _repaint_now(self, _elapsed: float) -> None:
        if self.view is None:
            return
        self._photo.texture = self.texture
        self._photo.pos = (self.view.left_px, self.view.bottom_px)
        self._photo.size = (self.wide_px, self.wide_px * self.aspect)
        paint(self._ink, self.shapes, self.to_glass)

    def _look_from(self, view: View) -> None:
        self.view = view
        self._repaint()

    def _zoom(self, times: float) -> None:
        if self.view is None:
            return
        touched = None if self._touched is None else self.to_glass(self._touched)
        self._look_from(self.view.stepped(times, touched))

    # --- fingers ----------------------------------------------------------------------------

    def on_touch_down(self, touch: Finger) -> bool:
        if self.view is None or not self.ids.field.collide_point(*touch.pos):
            return bool(super().on_touch_down(touch))
        touch.grab(self)
        if not self._fingers:
            self._way, self._several, self._path = 0.0, False, [self.at(touch.pos)]
        self._fingers[touch.uid] = touch.pos
        self._several = self._several or len(self._fingers) > 1
        self._follow(touch.pos)
        return True

    def on_touch_move(self, touch: Finger) -> bool:
        if touch.grab_current is not self:
            return bool(super().on_touch_move(touch))
        before = dict(self._fingers)
        self._fingers[touch.uid] = touch.pos
        right, up = (now - then for now, then in zip(touch.pos, before[touch.uid], strict=True))
        self._way += hypot(right, up)
        if len(before) > 1:
            self._pinch(before)
        elif not self._several:
            self._path.append(self.at(touch.pos))
            self._follow(touch.pos)
            if self.tool == "look" and self._way > SLOP:
                self._look_from(self.view.panned(right, up))
        return True

    def on_touch_up(self, touch: Finger) -> bool:
        if touch.grab_current is not self:
            return bool(super().on_touch_up(touch))
        touch.ungrab(self)
        del self._fingers[touch.uid]
        if not self._fingers:
            self._forget()
            if not self._several:
                self._touched = self.at(touch.pos)
                self._tell(touch.pos)
        return True

    def _follow(self, pixel: tuple[float, float]) -> None:
        """Show what the finger does, as long as it is one."""
        if self._several:
            self._forget()
        elif self.tool == "tap":
            self._loupe.show(self, pixel)
        elif self.tool == "draw" and len(self._path) > 1:
            paint(self._drawing, [Stroke(tuple(self._path), "lamp")], self.to_glass)

    def _forget(self) -> None:
        self._loupe.hide()
        self._drawing.clear()

    def _tell(self, pixel: tuple[float, float]) -> None:
        if self.tool == "tap":
            self.dispatch("on_tapped", self.at(pixel))
        elif self.tool == "draw" and self._way > SLOP:
            self.dispatch("on_drawn", tuple(self._path))

    def _pinch(self, before: dict[object, tuple[float, float]]) -> None:
        self._look_from(self.view.pinched(list(before.values()), list(self._fingers.values())))


def _inside(share: float) -> float:
    return min(max(share, 0.0), 1.0)
