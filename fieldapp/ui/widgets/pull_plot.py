"""A pull as it grows: load over displacement, reading by reading, with what is demanded."""

from collections.abc import Iterator, Sequence
from typing import Any

from kivy.clock import Clock
from kivy.core.text import Label as Letters
from kivy.graphics import Color, Ellipse, InstructionGroup, Line, Rectangle
from kivy.properties import ListProperty, NumericProperty
from kivy.uix.widget import Widget

from fieldapp.ui import theme
from fieldapp.ui.paired import PairedWidget
from fieldapp.ui.theme import look

LEFT, BELOW, BESIDE = theme.mm(12), theme.mm(8), theme.mm(5)
DOT = theme.mm(2.4)
MORE = 1.15
"""So much of each axis is in sight beyond the farthest."""
DASH, GAP = 12, 8

Point = tuple[float, float]


class PullPlot(PairedWidget, Widget):
    """Draws `points` (mm, kN) with a line through them.

    Dashed lines stand at the load demanded and the slip allowed, each with its number at the
    axis: a pull passes above the one and left of the other.
    """

    points = ListProperty()
    load_kn = NumericProperty(0)
    slip_mm = NumericProperty(0)

    def __init__(self, **kwargs: Any) -> None:
        self._redraw = Clock.create_trigger(self._redraw_now, -1)
        self._drawn = InstructionGroup()
        super().__init__(**kwargs)
        self.canvas.add(self._drawn)
        for name in ("points", "load_kn", "slip_mm", "pos", "size"):
            self.fbind(name, self._redraw)
        look.paints(self)
        self._redraw()

    def recolour(self) -> None:
        self._redraw()

    @property
    def most(self) -> Point:
        """The farthest that is in sight, in mm and kN."""
        mm = max([self.slip_mm, 1.0, *(x for x, _y in self.points)])
        kn = max([self.load_kn, 1.0, *(y for _x, y in self.points)])
        return mm * MORE, kn * MORE

    def place(self, point: Point) -> Point:
        """Give where a reading is drawn."""
        most_mm, most_kn = self.most
        wide, high = self.width - LEFT - BESIDE, self.height - BELOW - BESIDE
        x_mm, y_kn = point
        return self.x + LEFT + x_mm / most_mm * wide, self.y + BELOW + y_kn / most_kn * high

    def _redraw_now(self, _elapsed: float) -> None:
        self._drawn.clear()
        for instruction in self._instructions():
            self._drawn.add(instruction)

    def _instructions(self) -> Iterator[Any]:
        (left, low), (right, high) = self.place((0, 0)), self.place(self.most)
        yield Color(*look.outline)
        yield Line(points=[left, high, left, low, right, low], width=theme.HAIR)
        yield from self._limits((left, low), (right, high))
        yield Color(*look.measures)
        places = [self.place(it) for it in self.points]
        if len(places) > 1:
            yield Line(points=[it for at in places for it in at], width=theme.HAIR * 1.5)
        for x, y in places:
            yield Ellipse(pos=(x - DOT / 2, y - DOT / 2), size=(DOT, DOT))

    def _limits(self, least: Point, most: Point) -> Iterator[Any]:
        (left, low), (right, high) = least, most
        if self.load_kn:
            _x, y = self.place((0, self.load_kn))
            yield Color(*look.lamp)
            yield from _dashed((left, y), (right, y))
            yield from _written(f"{self.load_kn:g} kN", (left + theme.mm(1), y + theme.mm(0.5)))
        if self.slip_mm:
            x, _y = self.place((self.slip_mm, 0))
            yield Color(*look.rework)
            yield from _dashed((x, low), (x, high))
            yield from _written(f"{self.slip_mm:g} mm", (x, low - BELOW), middle=True)


def _dashed(start: Point, end: Point) -> Iterator[Line]:
    (x0, y0), (x1, y1) = start, end
    length = max(abs(x1 - x0), abs(y1 - y0))
    for along in range(0, int(length), DASH + GAP):
        one, other = along / length, min(1.0, (along + DASH) / length)
        yield Line(
            points=[
                x0 + (x1 - x0) * one,
                y0 + (y1 - y0) * one,
                x0 + (x1 - x0) * other,
                y0 + (y1 - y0) * other,
            ],
            width=theme.HAIR,
        )


def _written(words: str, at: Point, *, middle: bool = False) -> Sequence[Any]:
    letters = Letters(text=words, font_size=theme.SMALL_TEXT, font_name=theme.font_for(words))
    letters.refresh()
    x, y = at
    x -= letters.texture.width / 2 if middle else 0
    return (Rectangle(texture=letters.texture, pos=(x, y), size=letters.texture.size),)
