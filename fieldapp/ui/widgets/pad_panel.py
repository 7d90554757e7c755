"""A number or a sign code asked for over the whole glass."""

from collections.abc import Callable
from typing import Any

from kivy.properties import ObjectProperty

from fieldapp.ui.widgets.number_pad import NumberPad
from fieldapp.ui.widgets.sheet import Sheet

__all__ = ["NumberPad", "PadPanel"]


class PadPanel(Sheet):
    """The pad. It goes away as soon as `then` is told what was typed, or when it is left."""

    offers_no_entry = False

    then: Callable[[str], None] | None = ObjectProperty(None, allownone=True)

    def __init__(self, then: Callable[[str], None], **pad: Any) -> None:
        super().__init__(then=then)
        for name, value in pad.items():
            setattr(self.ids.pad, name, value)

    def take(self, typed: str) -> None:
        """Go away, then hand over what was typed."""
        then = self.then
        self.close()
        if then is not None:
            then(typed)
