"""An intersection in plan on the glass: a touch means a place in it."""

from typing import Any

from kivy.clock import Clock
from kivy.graphics import InstructionGroup
from kivy.properties import ObjectProperty
from kivy.uix.stencilview import StencilView

from fieldapp.report.intersection_picture import (
    IntersectionPicture,
    Place,
    PlanFrame,
    paint_intersection,
    plan_frame,
)
from fieldapp.ui import theme
from fieldapp.ui.glass_pen import SMALLEST_PT, GlassPen
from fieldapp.ui.paired import PairedWidget
from fieldapp.ui.theme import look

LEAST_MM = 25.0
"""In less room there is no plan."""


class PlanPlot(PairedWidget, StencilView):
    """Shows an `IntersectionPicture`, never past its own edge: a gap may be wider than the plan.

    A touch fires `on_place` with the place in metres.
    """

    drawn: IntersectionPicture | None = ObjectProperty(None, allownone=True)

    __events__ = ("on_place",)

    def __init__(self, **kwargs: Any) -> None:
        self._painted = InstructionGroup()
        self._repaint = Clock.create_trigger(self._repaint_now, -1)
        super().__init__(**kwargs)
        self.canvas.add(self._painted)
        for name in ("drawn", "pos", "size"):
            self.fbind(name, self._repaint)
        look.paints(self)

    def recolour(self) -> None:
        self._repaint()

    def on_place(self, place: Place) -> None:
        """Told which place was touched."""

    @property
    def mm_per_m(self) -> float:
        """How many millimetres of glass a metre is."""
        return self._frame().mm_per_m

    def where(self, place: Place) -> tuple[float, float]:
        """Give where a place lies on the glass."""
        return self._pen().at(self._frame().at(place))

    def on_touch_down(self, touch: Any) -> bool:
        if self.drawn is None or not self.collide_point(*touch.pos):
            return bool(super().on_touch_down(touch))
        touch.grab(self)
        return True

    def on_touch_up(self, touch: Any) -> bool:
        if touch.grab_current is not self:
            return bool(super().on_touch_up(touch))
        touch.ungrab(self)
        if self.drawn is not None and self.collide_point(*touch.pos):
            x, y = touch.pos
            at = (x - self.x) / theme.PX_PER_MM, (self.top - y) / theme.PX_PER_MM
            self.dispatch("on_place", self._frame().place(at))
        return True

    @property
    def _size_mm(self) -> tuple[float, float]:
        return self.width / theme.PX_PER_MM, self.height / theme.PX_PER_MM

    def _frame(self) -> PlanFrame:
        assert self.drawn is not None  # noqa: S101 - nothing is asked of what is not drawn
        return plan_frame(self.drawn, (0.0, 0.0), self._size_mm)

    def _pen(self) -> GlassPen:
        return GlassPen((self.x, self.top))

    def _repaint_now(self, _elapsed: float) -> None:
        self._painted.clear()
        if self.drawn is None or min(self._size_mm) < LEAST_MM:
            return
        pen = self._pen()
        paint_intersection(pen, self.drawn, (0.0, 0.0), self._size_mm, SMALLEST_PT)
        pen.put(self._painted)
