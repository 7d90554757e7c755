"""A panel over the screen that has to be answered or left: it takes all touches."""

from typing import ClassVar

from kivy.properties import OptionProperty, StringProperty
from kivy.uix.floatlayout import FloatLayout
from kivy.uix.widget import Widget

from fieldapp.ui.paired import PairedWidget
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.badge import Badge
from fieldapp.ui.widgets.bounce import bounce
from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.key_row import KeyRow
from fieldapp.ui.widgets.urgent import urgent
from fieldapp.ui.widgets.words import Words

__all__ = ["Badge", "KeyRow", "Sheet", "Words"]


class Sheet(PairedWidget, FloatLayout):
    """A full screen, or a panel at the bottom edge. It appears and goes at once, without sliding.

    Keys go into the row at its bottom, other children into its body. The last key of every
    sheet is *no entry*. `close` fires `on_closed`.
    """

    offers_no_entry: ClassVar[bool] = True
    """False where what lies in it offers *no entry* already, or asks for nothing else."""

    place = OptionProperty("bottom", options=["bottom", "full"])
    title = StringProperty()
    note = StringProperty()

    __events__ = ("on_closed",)

    def __init__(self, **kwargs: object) -> None:
        super().__init__(**kwargs)
        self._no_entry = Key(title=_("No entry"), tall=True, role="grave", size_hint_x=0.5)
        self._no_entry.bind(on_release=lambda *_args: self.no_entry())

    def open(self) -> None:
        """Lay the sheet over everything."""
        from kivy.core.window import Window  # imported here: it opens the window

        if self.parent is None:
            self._offer_no_entry()
            Window.add_widget(self)
            bounce.begin()

    def close(self) -> None:
        """Take the sheet away."""
        if self.parent is not None:
            self.parent.remove_widget(self)
            bounce.begin()
            self.dispatch("on_closed")

    def no_entry(self) -> None:
        """Go away, and take the first touch of *no entry*."""
        self.close()
        urgent.no_entry()

    def laid_aside(self) -> None:
        """Told when the app goes out of sight, behind another or with the screen turned off."""

    def on_closed(self) -> None:
        """Told when the sheet has gone."""

    def add_widget(self, widget: Widget, *args: object, **kwargs: object) -> None:
        body = self.ids.get("body")
        if body is None:
            super().add_widget(widget, *args, **kwargs)
        elif isinstance(widget, Key):
            self.ids.key_row.add_widget(widget, *args, **kwargs)
        else:
            body.add_widget(widget, *args, **kwargs)

    def _offer_no_entry(self) -> None:
        if self.offers_no_entry and urgent.act is not None and self._no_entry.parent is None:
            self.add_widget(self._no_entry)

    def on_touch_down(self, touch: object) -> bool:
        super().on_touch_down(touch)
        return True

    def on_touch_move(self, touch: object) -> bool:
        super().on_touch_move(touch)
        return True

    def on_touch_up(self, touch: object) -> bool:
        super().on_touch_up(touch)
        return True
