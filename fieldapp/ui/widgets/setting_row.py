"""One setting: its name, and a key for each value it may have."""

from kivy.properties import BooleanProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout
from kivy.uix.widget import Widget

from fieldapp.ui.paired import PairedWidget
from fieldapp.ui.widgets.words import Words

__all__ = ["SettingRow", "Words"]


class SettingRow(PairedWidget, BoxLayout):
    """The name beside the keys, or above them on a narrow screen. Its children are the keys."""

    name = StringProperty()
    wide = BooleanProperty(True)

    def add_widget(self, widget: Widget, *args: object, **kwargs: object) -> None:
        place = self.ids.get("keys_of_it")
        if place is None:
            super().add_widget(widget, *args, **kwargs)
        else:
            place.add_widget(widget, *args, **kwargs)
