"""A panel over the screen that has to be answered or left: it takes all touches."""

from kivy.properties import OptionProperty, StringProperty
from kivy.uix.floatlayout import FloatLayout
from kivy.uix.widget import Widget

from fieldapp.ui.paired import PairedWidget
from fieldapp.ui.widgets.badge import Badge
from fieldapp.ui.widgets.key_row import KeyRow
from fieldapp.ui.widgets.words import Words

__all__ = ["Badge", "KeyRow", "Sheet", "Words"]


class Sheet(PairedWidget, FloatLayout):
    """A full screen, or a panel at the bottom edge. It appears and goes at once, without sliding.

    Children go into its body; `add_key` puts a key into its own row. `close` fires `on_closed`.
    """

    place = OptionProperty("bottom", options=["bottom", "full"])
    title = StringProperty()
    note = StringProperty()

    __events__ = ("on_closed",)

    def open(self) -> None:
        """Lay the sheet over everything."""
        from kivy.core.window import Window  # imported here: it opens the window

        if self.parent is None:
            Window.add_widget(self)

    def close(self) -> None:
        """Take the sheet away."""
        if self.parent is not None:
            self.parent.remove_widget(self)
            self.dispatch("on_closed")

    def on_closed(self) -> None:
        """Told when the sheet has gone."""

    def add_widget(self, widget: Widget, *args: object, **kwargs: object) -> None:
        body = self.ids.get("body")
        if body is None:
            super().add_widget(widget, *args, **kwargs)
        else:
            body.add_widget(widget, *args, **kwargs)

    def add_key(self, key: Widget) -> None:
        """Put a key into the row at the bottom."""
        self.ids.key_row.add_widget(key)

    def on_touch_down(self, touch: object) -> bool:
        super().on_touch_down(touch)
        return True

    def on_touch_move(self, touch: object) -> bool:
        super().on_touch_move(touch)
        return True

    def on_touch_up(self, touch: object) -> bool:
        super().on_touch_up(touch)
        return True
