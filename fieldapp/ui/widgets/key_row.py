"""The keys at the bottom edge: side by side where there is room, else in two lines."""

from kivy.properties import NumericProperty
from kivy.uix.layout import Layout
from kivy.uix.widget import Widget

from fieldapp.ui import theme
from fieldapp.ui.paired import PairedWidget


class KeyRow(PairedWidget, Layout):
    """Lays out its keys in as many lines as their least width asks for.

    Within a line a key is as wide as its `size_hint_x` says, beside its neighbours.
    """

    least_width = NumericProperty(theme.mm(30))
    edge = NumericProperty(theme.EDGE)

    def __init__(self, **kwargs: object) -> None:
        super().__init__(**kwargs)
        for name in ("children", "pos", "size", "least_width", "edge"):
            self.fbind(name, self._trigger_layout)

    def do_layout(self, *_: object) -> None:
        lines = self._lines()
        top = self.y + self.height
        for line in lines:
            top -= max(key.height for key in line)
            self._place(line, top)
            top -= theme.GAP
        heights = sum(max(key.height for key in line) for line in lines)
        self.size = (self.width, heights + theme.GAP * max(0, len(lines) - 1))

    def add_widget(self, widget: Widget, *args: object, **kwargs: object) -> None:
        widget.fbind("height", self._trigger_layout)
        widget.fbind("size_hint", self._trigger_layout)
        widget.fbind("opacity", self._trigger_layout)
        super().add_widget(widget, *args, **kwargs)

    @property
    def _usable(self) -> float:
        return float(self.width - 2 * self.edge)

    def _lines(self) -> list[list[Widget]]:
        keys = [key for key in reversed(self.children) if key.opacity]
        if not keys:
            return []
        fitting = max(1, int((self._usable + theme.GAP) // (self.least_width + theme.GAP)))
        count = -(-len(keys) // fitting)
        longest = -(-len(keys) // count)
        return [keys[start : start + longest] for start in range(0, len(keys), longest)]

    def _place(self, line: list[Widget], bottom: float) -> None:
        shares = [key.size_hint_x or 1 for key in line]
        room = self._usable - theme.GAP * (len(line) - 1)
        left = self.x + self.edge
        for key, share in zip(line, shares, strict=True):
            key.width = int(room * share / sum(shares))
            key.pos = (int(left), int(bottom))
            left += key.width + theme.GAP
