"""The ground of everything that is touched: a rounded face that answers at once."""

from dataclasses import dataclass
from typing import Any

from kivy.properties import BooleanProperty, ColorProperty, OptionProperty
from kivy.uix.behaviors import ButtonBehavior
from kivy.uix.boxlayout import BoxLayout
from kivy.uix.widget import Widget

from fieldapp.ui.paired import PairedWidget
from fieldapp.ui.theme import look


@dataclass(frozen=True)
class Face:
    """The meanings that colour a touchable: its ground, its edge, what is written on it."""

    fill: str
    edge: str
    ink: str


FACES = {
    "main": Face("lamp", "lamp", "lamp_ink"),
    "ordinary": Face("key", "outline", "text"),
    "grave": Face("no_entry", "no_entry", "mark_ink"),
    "row": Face("panel", "panel", "text"),
}
SELECTED = Face("lamp", "lamp", "lamp_ink")
DISABLED = Face("ground", "outline", "quiet")
PRESSED = Face("quiet", "quiet", "ground")
"""A glove hides the finger's own feedback: the whole face turns over."""


class Touchable(ButtonBehavior, PairedWidget, BoxLayout):
    """Something that is touched. `role` says what kind of act it stands for."""

    role = OptionProperty("ordinary", options=list(FACES))
    selected = BooleanProperty(False)
    fill = ColorProperty()
    edge = ColorProperty()
    ink = ColorProperty()
    quiet_ink = ColorProperty()

    def __init__(self, **kwargs: object) -> None:
        super().__init__(**kwargs)
        for name in ("role", "selected", "state", "disabled"):
            self.fbind(name, self._paint)
        look.paints(self)
        self._paint()

    @property
    def face(self) -> Face:
        """The face that fits what is being done with it."""
        if self.disabled:
            return DISABLED
        if self.state == "down":
            return PRESSED
        return SELECTED if self.selected else FACES[self.role]

    def on_touch_down(self, touch: object) -> bool:
        """Take no touch while it can't be seen: it was meant for what lies there."""
        return not self._is_hidden and bool(super().on_touch_down(touch))

    @property
    def _is_hidden(self) -> bool:
        at: Any = self
        while isinstance(at, Widget):
            if at.opacity == 0:
                return True
            at = at.parent
        return False

    def recolour(self) -> None:
        self._paint()

    def _paint(self, *_: object) -> None:
        face = self.face
        self.fill = getattr(look, face.fill)
        self.edge = getattr(look, face.edge)
        self.ink = getattr(look, face.ink)
        self.quiet_ink = look.quiet if face is FACES["row"] else self.ink
