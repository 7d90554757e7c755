"""The map while sheets of mesh are placed: the chosen sheet's edges are dragged by one finger."""

from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal
from math import hypot
from typing import Final, Literal

from kivy.graphics import InstructionGroup
from kivy.properties import ObjectProperty

from fieldapp.report.shapes import MeshSheet
from fieldapp.ui import theme
from fieldapp.ui.drive.atlas import INK_AT, ink_texture
from fieldapp.ui.drive.meshes import add_quads
from fieldapp.ui.drive.strokes import Pixel, Strokes, circle_points
from fieldapp.ui.drive.view import View
from fieldapp.ui.theme import look
from fieldapp.ui.widgets.drive_map import DriveMap, Finger

Edge = Literal["outbye", "inbye", "left", "right"]
HANDLE_MM: Final = 3.5
"""Radius of the ring that marks a handle: a bolt stays to be seen inside it."""
REACH: Final = theme.TOUCH / 2
"""A finger so near to a handle means it: together as wide as whatever else is touched."""

Snap = Callable[[Edge, float], Decimal | None]
"""Where an edge may be put that a finger drags to a place."""


class SheetMap(DriveMap):
    """Shows sheets, and one of them chosen. Fires `on_drag` while an edge moves, `on_edge` after.

    Touches elsewhere move the ground, or tell the place as on any map.
    """

    chosen: MeshSheet | None = ObjectProperty(None, allownone=True)
    snap: Snap | None = ObjectProperty(None, allownone=True)

    __events__: tuple[str, ...] = ("on_drag", "on_edge")

    def __init__(self, **kwargs: object) -> None:
        self._edge: Edge | None = None
        self._off_m = 0.0
        """From the finger to the edge it took hold of: the edge doesn't jump."""
        self._at_m: Decimal | None = None
        self._handles = InstructionGroup()
        super().__init__(**kwargs)

    def on_kv_post(self, base: object) -> None:
        super().on_kv_post(base)
        self.ids.field.canvas.add(self._handles)
        self.fbind("chosen", self._show_handles)

    def on_drag(self, edge: Edge, at_m: Decimal) -> None:
        """Told where an edge would be now."""

    def on_edge(self, edge: Edge, at_m: Decimal) -> None:
        """Told where an edge was let go."""

    # --- painting ---------------------------------------------------------------------------

    def _look_from(self, view: View) -> None:
        super()._look_from(view)
        self._show_handles()

    def _repaint_now(self, elapsed: float) -> None:
        super()._repaint_now(elapsed)
        self._show_handles()

    def _show_handles(self, *_: object) -> None:
        self._handles.clear()
        if self.chosen is None or self.view is None:
            return
        strokes = Strokes(INK_AT)
        corners = [self.view.pixel(*place) for place in self.moved.corners]
        strokes.line(corners, theme.PX_PER_MM * 0.9, "lamp", closed=True)
        for place in self.handles().values():
            ring = circle_points(place, HANDLE_MM * theme.PX_PER_MM)
            strokes.line(ring, theme.PX_PER_MM * 0.9, "lamp")
        add_quads(self._handles, strokes.quads, ink_texture(look.palette))

    @property
    def moved(self) -> MeshSheet:
        """The chosen sheet, with the edge that is being dragged where the finger has it."""
        sheet = self.chosen
        assert sheet is not None  # noqa: S101 - asked only while one is chosen
        if self._edge is None or self._at_m is None:
            return sheet
        return _with_edge(sheet, self._edge, float(self._at_m))

    def handles(self) -> dict[Edge, Pixel]:
        """Give where the handles are: in the middle of what is seen of each edge."""
        sheet, view = self.moved, self.view
        window = view.window
        left, bottom = view.pixel(sheet.x_from_m, sheet.s_from_m)
        right, top = view.pixel(sheet.x_to_m, sheet.s_to_m)
        x = _middle(left, right, window.left, window.left + window.width)
        y = _middle(bottom, top, window.bottom, window.bottom + window.height)
        return {"outbye": (x, bottom), "inbye": (x, top), "left": (left, y), "right": (right, y)}

    # --- fingers ----------------------------------------------------------------------------

    def on_touch_down(self, touch: Finger) -> bool:
        edge = self._edge_at(touch.pos)
        if edge is None or self._fingers or not self.ids.field.collide_point(*touch.pos):
            return bool(super().on_touch_down(touch))
        touch.grab(self)
        self._edge, self._at_m = edge, None
        self._off_m = getattr(self.chosen, _FIELDS[edge]) - self._along(touch.pos)
        return True

    def on_touch_move(self, touch: Finger) -> bool:
        if touch.grab_current is not self or self._edge is None:
            return bool(super().on_touch_move(touch))
        at_m = self.snap(self._edge, self._along(touch.pos) + self._off_m) if self.snap else None
        if at_m is not None and at_m != self._at_m:
            self._at_m = at_m
            self._show_handles()
            self.dispatch("on_drag", self._edge, at_m)
        return True

    def on_touch_up(self, touch: Finger) -> bool:
        if touch.grab_current is not self or self._edge is None:
            return bool(super().on_touch_up(touch))
        touch.ungrab(self)
        edge, at_m = self._edge, self._at_m
        self._edge = self._at_m = None
        self._show_handles()
        if at_m is not None and float(at_m) != getattr(self.chosen, _FIELDS[edge]):
            self.dispatch("on_edge", edge, at_m)
        return True

    def _along(self, at: Pixel) -> float:
        """Give the chainage or the distance from the crown that the taken edge would have."""
        x_m, s_m = self.view.place(at)
        return float(x_m if self._edge in ("outbye", "inbye") else s_m)

    def _edge_at(self, at: Pixel) -> Edge | None:
        """Give the edge whose handle a finger is on: the nearest."""
        if self.chosen is None or self.view is None:
            return None
        away = {edge: hypot(x - at[0], y - at[1]) for edge, (x, y) in self.handles().items()}
        nearest = min(away, key=lambda edge: away[edge])
        return nearest if away[nearest] <= REACH else None


_FIELDS: Final[dict[Edge, str]] = {
    "outbye": "x_from_m",
    "inbye": "x_to_m",
    "left": "s_from_m",
    "right": "s_to_m",
}


def _with_edge(sheet: MeshSheet, edge: Edge, at_m: float) -> MeshSheet:
    if edge == "outbye":
        return replace(sheet, x_from_m=at_m)
    if edge == "inbye":
        return replace(sheet, x_to_m=at_m)
    if edge == "left":
        return replace(sheet, s_from_m=at_m)
    return replace(sheet, s_to_m=at_m)


def _middle(start: float, end: float, least: float, most: float) -> float:
    """Give the middle of the part of a line that is seen."""
    low, high = max(start, least), min(end, most)
    return (low + high) / 2 if low < high else (start + end) / 2
