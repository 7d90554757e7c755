"""The first frame, while the records are opened; and what is told when they can't be."""

from typing import TYPE_CHECKING

from kivy.properties import BooleanProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout

from fieldapp.ui.paired import PairedWidget
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.caution_line import CautionLine
from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.key_row import KeyRow
from fieldapp.ui.widgets.message_panel import MessagePanel
from fieldapp.ui.widgets.words import Words
from schemas.trouble import Trouble

if TYPE_CHECKING:
    from fieldapp.store.rescue import Rescued

__all__ = ["CautionLine", "Key", "KeyRow", "MessagePanel", "Opening", "Words"]


class Opening(PairedWidget, BoxLayout):
    """The app's name, what is being done, and a trouble with the ways on.

    It fires what a key asks for: `on_again`, `on_salvage`, `on_defaults`, `on_stop`.
    """

    doing = StringProperty()
    happened = StringProperty()
    kept = StringProperty()
    do_next = StringProperty()
    way_on = StringProperty()
    rescued = BooleanProperty(False)

    __events__ = ("on_again", "on_salvage", "on_defaults", "on_stop")

    def say(self, doing: str) -> None:
        """Show what is being done; what was told before goes."""
        self.doing = doing
        self.happened = self.kept = self.do_next = self.way_on = ""
        self.rescued = False

    def tell(self, trouble: Trouble, way_on: str) -> None:
        """Tell what stands in the way, and offer the way on where there is one."""
        self.say("")
        self.happened, self.kept, self.do_next = trouble.sentences()
        self.way_on = way_on
        if way_on == "salvage":
            self.do_next = _("Bring it back from a backup, or carry on with what can be read.")

    def tell_rescued(self, rescued: "Rescued") -> None:
        """Tell what was carried over out of a damaged database."""
        self.say("")
        saved = rescued.saved
        self.happened = _(
            "{count} entries were carried over into a new database; {missing} could not be read."
        ).format(count=len(saved.entries), missing=saved.missing)
        self.kept = _("The damaged one is kept in {copy}.").format(copy=rescued.copy)
        self.do_next = _(
            "Look at the open rounds and the entry lines again before anybody relies on them."
        )
        self.rescued = True

    def on_again(self) -> None:
        """Told when the records are to be opened again."""

    def on_salvage(self) -> None:
        """Told when what can be read of a damaged database is to be carried over."""

    def on_defaults(self) -> None:
        """Told when refused settings are to be set aside."""

    def on_stop(self) -> None:
        """Told when the app is to end."""
