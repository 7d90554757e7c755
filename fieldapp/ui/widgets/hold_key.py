"""A key that must be held: for signing and for what closes a heading."""

from time import monotonic
from typing import Any

from kivy.clock import Clock
from kivy.properties import NumericProperty, StringProperty

from fieldapp.ui import theme
from fieldapp.ui.widgets.key import Key


class HoldKey(Key):
    """A key that fires `on_held` after it was held for `seconds`; a bar fills meanwhile.

    Letting go earlier, or sliding off the key, does nothing.
    """

    seconds = NumericProperty(theme.HOLD_S)
    filled = NumericProperty(0.0)
    second = StringProperty("hold")

    __events__ = ("on_held",)

    def __init__(self, **kwargs: object) -> None:
        self._since = 0.0
        self._filling = Clock.create_trigger(self._fill, 0, interval=True)
        super().__init__(**kwargs)

    def on_held(self) -> None:
        """Told once, when the bar is full and the finger is still there."""

    def on_press(self) -> None:
        self._since = monotonic()
        self._filling()

    def on_release(self) -> None:
        self._empty()

    def on_state(self, _key: object, state: str) -> None:
        if state == "normal":
            self._empty()

    def on_touch_move(self, touch: Any) -> bool:
        if getattr(touch, "grab_current", None) is self and not self.collide_point(*touch.pos):
            self._empty()
        return bool(super().on_touch_move(touch))

    def _fill(self, _elapsed: float) -> None:
        self.filled = min(1.0, (monotonic() - self._since) / self.seconds)
        if self.filled >= 1.0:
            self._empty()
            self.dispatch("on_held")

    def _empty(self) -> None:
        self._filling.cancel()
        self.filled = 0.0
