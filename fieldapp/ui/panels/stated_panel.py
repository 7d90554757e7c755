"""What follows a stated *no entry*: who is inbye, and whether the barrier is up.

Both may stay unanswered. The no entry stands already.
"""

from collections.abc import Callable
from functools import partial
from typing import Any

from kivy.properties import BooleanProperty, ObjectProperty, StringProperty

from fieldapp.ui.figures import line
from fieldapp.ui.names import short
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.caution_line import CautionLine
from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.key_row import KeyRow
from fieldapp.ui.widgets.sheet import Sheet
from fieldapp.ui.widgets.words import Words
from fieldapp.work.headings import heading
from fieldapp.work.known import Known
from fieldapp.work.notices import answer
from schemas.bodies.entry_notice import EntryNotice

__all__ = ["CautionLine", "Key", "KeyRow", "StatedPanel", "Words"]


class StatedPanel(Sheet):
    """Says that it stands, from when, and asks the two things that come next."""

    shell: Any = ObjectProperty()
    notice: Known[EntryNotice] = ObjectProperty()
    inbye = StringProperty("")
    barrier_up = BooleanProperty(False)

    def __init__(self, shell: Any, notice: Known[EntryNotice]) -> None:
        super().__init__(shell=shell, notice=notice)
        place = heading(shell.site, notice.body.heading).body.name
        from_m = line(notice.body.from_m, shell.site.settings.units)
        where = _("from {place} inbye").format(place=from_m)
        if not notice.body.from_m:
            where = _("the whole heading")
        stands = _("No entry stands: {heading}, {where}")
        self.title = stands.format(heading=short(place), where=where)
        self.note = _(
            "Kept on this tablet at {time}. Nobody else is told by it: say it on the radio."
        ).format(time=f"{shell.local(notice.entry.made_at):%H:%M}")
        self._show(notice)

    def say_inbye(self, *, anyone: bool) -> None:
        """State whether anyone is inbye."""
        self._state(partial(answer, anyone_inbye=anyone))

    def say_barrier_up(self) -> None:
        """State that the barrier is up."""
        self._state(partial(answer, barrier_up=True))

    def _state(self, said: Callable[..., Known[EntryNotice]]) -> None:
        shell, notice_id = self.shell, self.notice.id
        shell.do(lambda: said(shell.site, notice_id, shell.session), then=self._show)

    def _show(self, notice: Known[EntryNotice]) -> None:
        self.notice = notice
        self.inbye = {None: "", True: "yes", False: "no"}[notice.body.anyone_inbye]
        self.barrier_up = notice.body.what == "barrier up"
        self.shell.refresh()
