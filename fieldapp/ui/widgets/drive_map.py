"""The unrolled drive on the glass: one scale, the face above, moved by one finger."""

from math import hypot
from typing import Any

import numpy as np
from kivy.clock import Clock
from kivy.properties import BooleanProperty, NumericProperty, ObjectProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout

from fieldapp.report.shapes import Bolt, Drawing
from fieldapp.ui import theme
from fieldapp.ui.drive.layers import Layers
from fieldapp.ui.drive.margins import INSET, Margins, room_for_chainages, room_for_grounds
from fieldapp.ui.drive.picking import REACH_MM, Picked, picked
from fieldapp.ui.drive.view import Ground, View, Window, fitted
from fieldapp.ui.paired import PairedWidget
from fieldapp.ui.theme import look
from fieldapp.ui.widgets.key import Key

__all__ = ["DriveMap", "Key"]

SLOP = theme.mm(2.5)
"""A glove rolls as it touches: only a longer way moves the ground."""
ZOOM_STEP = 1.4
TAGS_M = 0.6
"""So much more is shown inbye: room for tags that would hide bolts or the face elsewhere."""
EDGES = theme.mm(10.5) + 2 * INSET, theme.mm(11) + 2 * INSET
"""What row numbers, names of zones and marks at the rim take of the width and the height."""
KEYS = theme.TOUCH + theme.GAP

Finger = Any
"""A touch as Kivy reports it; Kivy has no types."""


class DriveMap(PairedWidget, BoxLayout):
    """Shows a `Drawing`. One finger moves the ground; + and −, or two fingers, change the scale.

    A touch fires `on_bolt` with the bolt that was clearly meant, `on_choose` with the bolts among
    which a person has to choose and the place (x_m, s_m) between, or `on_ground` with the place
    where no bolt is.
    """

    drawing = ObjectProperty(None, allownone=True)
    selected = ObjectProperty(None, allownone=True)
    view = ObjectProperty(None, allownone=True)
    keys_below = BooleanProperty(False)
    """Where the keys take less of the ground: below a wide one, beside a long one."""
    room_beside = NumericProperty(0)
    """What the chainages ask for at the right; a narrow map goes without them."""
    chainages_from = NumericProperty(theme.mm(130))
    """A map so wide has room for them."""
    shows_chainages = BooleanProperty(False)
    other = StringProperty("")
    """What else can be shown: the title of one more key. Empty: there is none."""

    __events__: tuple[str, ...] = ("on_bolt", "on_choose", "on_ground", "on_switch")

    def __init__(self, **kwargs: object) -> None:
        self._fingers: dict[object, tuple[float, float]] = {}
        self._way = self._along_m = 0.0
        self._repaint = Clock.create_trigger(self._repaint_now, -1)
        super().__init__(**kwargs)

    def on_kv_post(self, _base: object) -> None:
        # Inside another look the ids are not there before this.
        self._layers = Layers(self.ids.field.canvas)
        self._margins = Margins(self.canvas)
        self.fbind("drawing", self._show)
        self.fbind("other", self._offer)
        self._other = self.ids.other.__self__  # kept while it is not on the map: ids hold weakly
        self._offer()
        self.fbind("selected", self._show_ring)
        self.ids.field.bind(pos=self._show, size=self._show)
        look.paints(self)
        self._show()

    # --- what a screen asks of it -----------------------------------------------------------

    def focus(self, x_m: float, s_m: float, along_m: float = 0.0) -> None:
        """Bring a place and so much of the drive into the middle and put the ring around it."""
        self.selected, self._along_m = (x_m, s_m), along_m
        if self.view is not None:
            self._look_from(self._focused(self.view))

    def zoom(self, times: float) -> None:
        """Make the ground larger or smaller, about the ring or the middle."""
        if self.view is None:
            return
        ring = None if self.selected is None else self.view.pixel(*self.selected)
        self._look_from(self.view.stepped(times, ring))

    def zoom_in(self) -> None:
        """Make the ground larger by a step."""
        self.zoom(ZOOM_STEP)

    def zoom_out(self) -> None:
        """Make the ground smaller by a step."""
        self.zoom(1 / ZOOM_STEP)

    def show_all(self) -> None:
        """Show all of the ground again."""
        self.view = None
        self._show()

    def on_bolt(self, bolt: Bolt) -> None:
        """Told which bolt was touched."""

    def on_choose(self, bolts: tuple[Bolt, ...], x_m: float, s_m: float) -> None:
        """Told that one of these bolts was meant, the nearest first, or the place between."""

    def on_ground(self, x_m: float, s_m: float) -> None:
        """Told at which place the ground was touched."""

    def on_switch(self) -> None:
        """Told that the other thing is wanted."""

    def _offer(self, *_: object) -> None:
        """Have the key for something else only where there is something."""
        keys = self.ids.scale_keys
        if self.other and self._other.parent is None:
            keys.add_widget(self._other, index=1)  # before the empty rest
        elif not self.other and self._other.parent is not None:
            keys.remove_widget(self._other)

    # --- painting ---------------------------------------------------------------------------

    def recolour(self) -> None:
        self._repaint()

    def _show(self, *_: object) -> None:
        drawing: Drawing | None = self.drawing
        field = self.ids.field
        if drawing is None or min(field.size) <= 2 * INSET:
            return
        self.room_beside = room_for_chainages(drawing)
        inbye_m = drawing.x_to_m + TAGS_M
        ground = Ground(drawing.x_from_m, inbye_m, drawing.s_from_m, drawing.s_to_m)
        self._place_keys(ground)
        left = INSET + room_for_grounds(drawing)
        window = Window(
            field.x + left, field.y + INSET, field.width - left - INSET, field.height - 2 * INSET
        )
        before = self.view
        if before is None or (before.ground, before.window) != (ground, window):
            self.view = fitted(ground, window)
            if before is not None and self.selected is not None:
                self.view = self._focused(self.view)
        self._repaint()

    def _place_keys(self, ground: Ground) -> None:
        wide, high = self.width - EDGES[0], self.height - EDGES[1]
        beside = min((wide - KEYS) / ground.across_m, high / ground.along_m)
        below = min(wide / ground.across_m, (high - KEYS) / ground.along_m)
        self.keys_below = below > beside

    def _focused(self, view: View) -> View:
        times = view.window.height / max(self._along_m * view.px_per_m, view.window.height)
        smaller = view.zoomed(times, view.pixel(*self.selected)) if times < 1 else view
        return smaller.centred(*self.selected)

    def _look_from(self, view: View) -> None:
        before, self.view = self.view, view
        if before.px_per_m != view.px_per_m:
            self._repaint()
        else:
            self._layers.move(view)
            self._write_margins()

    def _repaint_now(self, _elapsed: float) -> None:
        if self.drawing is None or self.view is None:
            return
        self._layers.paint(self.drawing, self.view)
        self._write_margins()
        self._show_ring()

    def _write_margins(self) -> None:
        self._margins.write(self.drawing, self.view, chainages=self.shows_chainages)

    def _show_ring(self, *_: object) -> None:
        self._layers.ring(self.selected, "lamp")

    # --- fingers ----------------------------------------------------------------------------

    def on_touch_down(self, touch: Finger) -> bool:
        if self.view is None or not self.ids.field.collide_point(*touch.pos):
            return bool(super().on_touch_down(touch))
        touch.grab(self)
        if not self._fingers:
            self._way = 0.0
        self._fingers[touch.uid] = touch.pos
        choice = self._picked(touch.pos)
        if len(self._fingers) == 1 and choice.is_clear:
            bolt = self.drawing.bolts[choice.marks[0]]
            self._layers.ring((bolt.x_m, bolt.s_m), "quiet")
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
        elif self._way > SLOP:
            self._show_ring()
            self._look_from(self.view.panned(right, up))
        return True

    def on_touch_up(self, touch: Finger) -> bool:
        if touch.grab_current is not self:
            return bool(super().on_touch_up(touch))
        touch.ungrab(self)
        del self._fingers[touch.uid]
        self._show_ring()
        if self._way <= SLOP and not self._fingers:
            self._tell(touch.pos)
        return True

    def _pinch(self, before: dict[object, tuple[float, float]]) -> None:
        self._way += SLOP
        self._look_from(self.view.pinched(list(before.values()), list(self._fingers.values())))

    def _picked(self, at: tuple[float, float]) -> Picked:
        reach = 2 * REACH_MM * theme.PX_PER_MM
        corner = np.array((self.view.left_px, self.view.bottom_px))
        pixels = self._layers.centres + corner
        near = np.flatnonzero((np.abs(pixels - at) < reach).all(axis=1))
        choice = picked(pixels[near].tolist(), at, theme.PX_PER_MM)
        return Picked(tuple(int(near[mark]) for mark in choice.marks))

    def _tell(self, at: tuple[float, float]) -> None:
        bolts = tuple(self.drawing.bolts[mark] for mark in self._picked(at).marks)
        if not bolts:
            self.dispatch("on_ground", *self.view.place(at))
        elif len(bolts) == 1:
            self.dispatch("on_bolt", bolts[0])
        else:
            self.dispatch("on_choose", bolts, *self.view.place(at))
