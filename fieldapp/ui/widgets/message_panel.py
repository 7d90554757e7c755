"""A trouble, told in its three sentences: what happened, what was kept, what to do next."""

from kivy.properties import StringProperty
from kivy.uix.boxlayout import BoxLayout

from fieldapp.ui.paired import PairedWidget
from fieldapp.ui.widgets.words import Words
from schemas.trouble import Trouble

__all__ = ["MessagePanel", "Words"]


class MessagePanel(PairedWidget, BoxLayout):
    """Three sentences that stay until something is done about them."""

    happened = StringProperty()
    kept = StringProperty()
    do_next = StringProperty()

    def tell(self, trouble: Trouble) -> None:
        """Show a trouble."""
        self.happened, self.kept, self.do_next = trouble.sentences()
