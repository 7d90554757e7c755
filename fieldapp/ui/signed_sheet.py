"""After the sign-off: what was decided, where entry stands, the handover, the sheet."""

from functools import partial
from typing import Any

from kivy.properties import ListProperty, ObjectProperty, StringProperty

from fieldapp.ui.long_paths import broken
from fieldapp.ui.review_work import Afterwards, afterwards
from fieldapp.ui.shell import Shell
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.paged_list import PagedList
from fieldapp.ui.widgets.sheet import Sheet
from fieldapp.ui.widgets.words import Words
from fieldapp.work.sign import Signed

__all__ = ["Key", "PagedList", "SignedSheet", "SpokenLine", "Words"]

TITLES = {
    "accepted": _("Accepted and signed"),
    "sent back": _("Sent back and signed"),
    "barricaded": _("Barricaded and signed"),
}


class SpokenLine(Words):
    """One sentence of the handover."""


class SignedSheet(Sheet):
    """A full screen that stays until somebody has read it."""

    line = StringProperty()
    says = StringProperty()
    radio_title = StringProperty(_("For the radio"))
    radio = ListProperty()
    path = StringProperty()
    entry_title = StringProperty(_("Entry"))
    entry_second = StringProperty()
    make_row: Any = ObjectProperty(None, allownone=True)

    def __init__(self, shell: Shell, heading_id: str, signed: Signed) -> None:
        body = signed.sign_off.body
        super().__init__(place="full", title=TITLES[body.decision], make_row=_spoken)
        self._shell, self._heading_id, self._round_id = shell, heading_id, body.round
        self.entry_second = _("barrier up?") if body.decision == "barricaded" else ""
        self.says = body.says[:1].upper() + body.says[1:]

    def open(self) -> None:
        """Lay it over the screen, and find out what follows from the sign-off."""
        super().open()
        site = self._shell.site
        job = partial(afterwards, site, self._heading_id, self._round_id)
        self._shell.do(job, then=self._take, lane="long")

    def no_entry(self) -> None:
        """Go to the board, and take the first touch of *no entry* in this heading."""
        self.close()
        self._shell.to_board()
        self._shell.no_entry(heading_id=self._heading_id)

    def to_entry(self) -> None:
        """Go to the heading's entry: is anybody inbye, is the barrier up."""
        self.close()
        self._shell.to_board()
        self._shell.open("entry", heading_id=self._heading_id)

    def leave(self) -> None:
        """Go to the Shift board."""
        self.close()
        self._shell.to_board()

    def _take(self, found: Afterwards) -> None:
        self.line = found.line
        self.radio = list(found.radio)
        self.path = _("Round sheet: {path}").format(path=broken(str(found.path)))


def _spoken(sentence: str) -> SpokenLine:
    return SpokenLine(text=sentence)
