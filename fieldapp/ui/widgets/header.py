"""The top of every screen: the way out, where one is, and what holds there."""

from kivy.properties import BooleanProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout

from fieldapp.ui.paired import PairedWidget
from fieldapp.ui.widgets.badge import Badge
from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.words import Words

__all__ = ["Badge", "Header", "Key", "Words"]


class Header(PairedWidget, BoxLayout):
    """The header. `way_out` names the key at the left (none when empty); it fires `on_leave`.

    The two lines at the right, and the badge, move to a strip below on a narrow screen. `badge`
    replaces `look.badge`, which is told once for all headers.
    """

    way_out = StringProperty()
    title = StringProperty()
    subtitle = StringProperty()
    side = StringProperty()
    side_strong = StringProperty()
    badge = StringProperty()
    wide = BooleanProperty(True)

    __events__ = ("on_leave",)

    def on_leave(self) -> None:
        """Told when the key at the left was touched."""
