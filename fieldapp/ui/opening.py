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
    from fieldapp.store.bring_back import BroughtBack

__all__ = ["CautionLine", "Key", "KeyRow", "MessagePanel", "Opening", "Words"]


class Opening(PairedWidget, BoxLayout):
    """The app's name, what is being done, and a trouble with the ways on.

    It fires what a key asks for: `on_again`, `on_bring_back`, `on_defaults`, `on_stop`.
    """

    doing = StringProperty()
    happened = StringProperty()
    kept = StringProperty()
    do_next = StringProperty()
    way_on = StringProperty()
    source = StringProperty()
    """What the records can be brought back from."""
    is_back = BooleanProperty(False)

    __events__ = ("on_again", "on_bring_back", "on_defaults", "on_stop")

    def say(self, doing: str) -> None:
        """Show what is being done; what was told before goes."""
        self.doing = doing
        self.happened = self.kept = self.do_next = self.way_on = self.source = ""
        self.is_back = False

    def tell(self, trouble: Trouble, way_on: str, newest_backup: str = "") -> None:
        """Tell what stands in the way, and offer the way on where there is one."""
        self.say("")
        self.happened, self.kept, self.do_next = trouble.sentences()
        self.way_on = way_on
        if way_on == "bring back":
            self.do_next = _(
                "Bring the records back. What was shared after the backup comes back from the "
                "mine's folder with the next exchange."
            )
            self.source = _("from what can be read")
            if newest_backup:
                self.source = _("backup of {time}").format(time=newest_backup)

    def tell_brought_back(self, brought: "BroughtBack") -> None:
        """Tell what is here again."""
        self.say("")
        self.happened = _("The records are back: {count} entries.").format(count=brought.entries)
        if brought.missing:
            self.happened += " " + _("{missing} could not be read anywhere.").format(
                missing=brought.missing
            )
        self.kept = _("Everything that the backup held is here.")
        if brought.copy is not None:
            self.kept = _("{count} of them were read in the damaged one, kept in {copy}.").format(
                count=brought.read, copy=brought.copy
            )
        self.do_next = _(
            "Share with the mine's folder, then look at the open rounds and the entry lines "
            "before anybody relies on them."
        )
        self.is_back = True

    def on_again(self) -> None:
        """Told when the records are to be opened again."""

    def on_bring_back(self) -> None:
        """Told when the records are to be brought back."""

    def on_defaults(self) -> None:
        """Told when refused settings are to be set aside."""

    def on_stop(self) -> None:
        """Told when the app is to end."""
