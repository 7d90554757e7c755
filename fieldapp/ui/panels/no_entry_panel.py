"""*No entry*, in two touches from any screen, with every other field empty.

The first touch lays this panel over the screen. The second says where, and that states it:
here, from the last two rows, or the whole heading. Nothing is chosen before a finger says so.
"""

from collections.abc import Sequence
from decimal import Decimal
from functools import partial
from typing import Any

from kivy.properties import BooleanProperty, ObjectProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout

from fieldapp.ui.figures import line
from fieldapp.ui.names import short
from fieldapp.ui.paired import PairedWidget
from fieldapp.ui.panels.stated_panel import StatedPanel
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.key_row import KeyRow
from fieldapp.ui.widgets.paged_grid import PagedGrid
from fieldapp.ui.widgets.sheet import Sheet
from fieldapp.ui.widgets.words import Words
from fieldapp.work.closing import WHOLE_HEADING_M, Closing, closings
from fieldapp.work.known import Known
from fieldapp.work.notices import say_no_entry
from schemas.bodies.entry_notice import EntryNotice
from schemas.trouble import Trouble

__all__ = ["ClosingKeys", "Key", "KeyRow", "NoEntryPanel", "PagedGrid", "Words"]


class ClosingKeys(PairedWidget, BoxLayout):
    """The two closings of one heading. `panel` is told which was touched."""

    panel: Any = ObjectProperty()
    closing: Closing = ObjectProperty()
    name = StringProperty()
    last_rows = StringProperty()


class NoEntryPanel(Sheet):
    """Asks where, and states it at the first answer; a second touch of the same key is ignored.

    `here_m` is the chainage that the screen below shows, where it shows one.
    """

    shell: Any = ObjectProperty()
    heading_id = StringProperty()
    here_m: Decimal | None = ObjectProperty(None, allownone=True)
    here = StringProperty()
    one: Closing | None = ObjectProperty(None, allownone=True)
    last_rows = StringProperty()
    make_keys: Any = ObjectProperty(None, allownone=True)
    several: Sequence[Closing] = ObjectProperty(())
    stated = BooleanProperty(False)

    def __init__(
        self, shell: Any, *, heading_id: str | None = None, from_m: Decimal | None = None
    ) -> None:
        super().__init__(
            shell=shell,
            heading_id=heading_id or "",
            here_m=from_m,
            place="bottom" if heading_id else "full",
            title=_("No entry: where?"),
        )
        self.make_keys = self._make_keys
        if from_m is not None:
            self.here = self._line(from_m)
        shell.do(lambda: closings(shell.site, shell.now()), then=self._show)

    def close_here(self) -> None:
        """State it from where the screen below stands."""
        self._say(self.heading_id, self.here_m or WHOLE_HEADING_M)

    def close_last_rows(self, closing: Closing) -> None:
        """State it from the last two rows inbye."""
        self._say(closing.heading_id, closing.last_rows_m)

    def close_heading(self, heading_id: str) -> None:
        """State it for a whole heading."""
        self._say(heading_id, WHOLE_HEADING_M)

    def _say(self, heading_id: str, from_m: Decimal) -> None:
        if self.stated:
            return
        self.stated = True
        shell = self.shell
        job = partial(say_no_entry, shell.site, heading_id, from_m, shell.session)
        shell.do(job, then=self._done, on_trouble=self._failed)

    def _done(self, notice: Known[EntryNotice]) -> None:
        self.close()
        self.shell.refresh()
        StatedPanel(self.shell, notice).open()

    def _failed(self, trouble: Trouble) -> None:
        self.stated = False
        self.shell.say(trouble)

    def _show(self, known: tuple[Closing, ...]) -> None:
        if not self.heading_id:
            self.several = known
            return
        self.one = next(it for it in known if it.heading_id == self.heading_id)
        name = short(self.one.name)
        self.title = _("No entry in {heading}: from where?").format(heading=name)
        self.last_rows = self._line(self.one.last_rows_m)

    def _make_keys(self, closing: Closing) -> ClosingKeys:
        return ClosingKeys(
            panel=self,
            closing=closing,
            name=short(closing.name),
            last_rows=self._line(closing.last_rows_m),
        )

    def _line(self, value: Decimal) -> str:
        return line(value, self.shell.site.settings.units)
