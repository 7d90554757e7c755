"""*No entry*, in two touches from any screen, with every other field empty.

The first touch lays this panel over the screen. The second says where, and that states it:
here, from the last two rows, or the whole heading. Nothing is chosen before a finger says so.
The whole heading never waits until somebody has worked out where its last rows are.
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
from fieldapp.work.closing import WHOLE_HEADING_M, Closing, closings, whole_headings
from fieldapp.work.known import Known
from fieldapp.work.notices import say_no_entry
from schemas.bodies.entry_notice import EntryNotice
from schemas.trouble import Trouble

__all__ = ["ClosingKeys", "Key", "KeyRow", "NoEntryPanel", "PagedGrid"]


class ClosingKeys(PairedWidget, BoxLayout):
    """The two closings of one heading. `panel` is told which was touched."""

    panel: Any = ObjectProperty()
    heading_id = StringProperty()
    name = StringProperty()
    last_rows = StringProperty()


class NoEntryPanel(Sheet):
    """Asks where, and states it at the first answer; a second touch is ignored.

    `here_m` is the chainage that the screen below shows, where it shows one.
    """

    offers_no_entry = False

    shell: Any = ObjectProperty()
    heading_id = StringProperty()
    here_m: Decimal | None = ObjectProperty(None, allownone=True)
    here = StringProperty()
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
        self._last_rows: dict[str, Decimal] = {}
        self._keys: dict[str, ClosingKeys] = {}
        self.make_keys = self._make_keys
        self.here = self._words(from_m)
        shell.do(partial(whole_headings, shell.site), then=self._show)
        shell.do(partial(closings, shell.site, shell.now()), then=self._show_rows, lane="look")

    def close_here(self) -> None:
        """State it from where the screen below stands."""
        self._say(self.heading_id, self.here_m or WHOLE_HEADING_M)

    def close_last_rows(self, heading_id: str) -> None:
        """State it from the last two rows inbye."""
        self._say(heading_id, self._last_rows[heading_id])

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
        one = next(it for it in known if it.heading_id == self.heading_id)
        question = _("No entry in {heading}: from where?")
        self.title = question.format(heading=short(one.name))

    def _show_rows(self, known: tuple[Closing, ...]) -> None:
        for closing in known:
            if closing.last_rows_m is not None:
                self._last_rows[closing.heading_id] = closing.last_rows_m
        self.last_rows = self._words(self._last_rows.get(self.heading_id))
        for heading_id, keys in self._keys.items():
            keys.last_rows = self._words(self._last_rows.get(heading_id))

    def _make_keys(self, closing: Closing) -> ClosingKeys:
        keys = ClosingKeys(
            panel=self,
            heading_id=closing.heading_id,
            name=short(closing.name),
            last_rows=self._words(self._last_rows.get(closing.heading_id)),
        )
        self._keys[closing.heading_id] = keys
        return keys

    def _words(self, from_m: Decimal | None) -> str:
        return "" if from_m is None else line(from_m, self.shell.site.settings.units)
