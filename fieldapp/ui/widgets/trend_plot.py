"""A chart on the glass: painted by the strokes of paper, and its points can be touched."""

from typing import Any

from kivy.clock import Clock
from kivy.graphics import InstructionGroup
from kivy.properties import ObjectProperty
from kivy.uix.widget import Widget

from fieldapp.report.chart import Frame, frame_of
from fieldapp.report.paint.chart import paint_chart
from fieldapp.report.trend_chart import TrendChart
from fieldapp.ui import theme
from fieldapp.ui.drive.picking import Picked, picked
from fieldapp.ui.glass_pen import SMALLEST_PT, GlassPen
from fieldapp.ui.paired import PairedWidget
from fieldapp.ui.theme import look

MARGIN_MM = 2.0
LEAST_MM = 30.0
"""In less room there is no chart."""


class TrendPlot(PairedWidget, Widget):
    """Shows a `TrendChart`. A touch fires `on_points` with the points that it may have meant.

    One: it was clearly nearest. Several, the nearest first: a person has to choose. A touch far
    from every point fires nothing.
    """

    drawn: TrendChart | None = ObjectProperty(None, allownone=True)

    __events__ = ("on_points",)

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

    def on_points(self, points: tuple[int, ...]) -> None:
        """Told which points of the series a touch may have meant."""

    def place(self, point: int) -> tuple[float, float]:
        """Give where a point of the series lies on the glass."""
        assert self.drawn is not None  # noqa: S101 - nothing is touched where nothing is drawn
        return self._places()[self.drawn.points.index(point)]

    def picked(self, at: tuple[float, float]) -> Picked:
        """Find the points that a touch may have meant."""
        return picked(self._places(), at, theme.PX_PER_MM)

    def on_touch_down(self, touch: Any) -> bool:
        if self.drawn is None or not self.collide_point(*touch.pos):
            return bool(super().on_touch_down(touch))
        touch.grab(self)
        return True

    def on_touch_up(self, touch: Any) -> bool:
        if touch.grab_current is not self:
            return bool(super().on_touch_up(touch))
        touch.ungrab(self)
        drawn = self.drawn
        meant = self.picked(touch.pos).marks if drawn is not None else ()
        if drawn is not None and meant:
            self.dispatch("on_points", tuple(drawn.points[it] for it in meant))
        return True

    @property
    def _size_mm(self) -> tuple[float, float]:
        wide, high = (it / theme.PX_PER_MM - 2 * MARGIN_MM for it in self.size)
        return wide, high

    def _frame(self, drawn: TrendChart) -> Frame:
        return frame_of(drawn.chart, (MARGIN_MM, MARGIN_MM), self._size_mm, SMALLEST_PT)

    def _pen(self) -> GlassPen:
        return GlassPen((self.x, self.top))

    def _places(self) -> list[tuple[float, float]]:
        if self.drawn is None or not self.drawn.chart.series:
            return []
        pen, frame = self._pen(), self._frame(self.drawn)
        return [pen.at(at) for _, at in frame.places(self.drawn.chart.series[0])]

    def _repaint_now(self, _elapsed: float) -> None:
        self._painted.clear()
        if self.drawn is None or min(self._size_mm) < LEAST_MM:
            return
        pen = self._pen()
        chart, corner = self.drawn.chart, (MARGIN_MM, MARGIN_MM)
        paint_chart(pen, chart, corner, self._size_mm, SMALLEST_PT)
        pen.put(self._painted)
