"""One heading's entry: where people may go, what holds them back, and what is done about it."""

from collections.abc import Callable
from functools import partial
from typing import Any, Final

from kivy.properties import BooleanProperty, ListProperty, ObjectProperty, StringProperty

from fieldapp.ui.entry_words import EntryPage, Stated, Stretch, entry_page
from fieldapp.ui.looking import BEING_WORKED_OUT, Looking
from fieldapp.ui.paired import PairedScreen
from fieldapp.ui.panels.batch_deciding import BatchDeciding
from fieldapp.ui.panels.inspecting import InspectedPanel
from fieldapp.ui.panels.notice_panel import NoticePanel
from fieldapp.ui.panels.reporting import Reporting
from fieldapp.ui.panels.restricting import Restricting
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.asking import KeySheet
from fieldapp.ui.widgets.caution_line import CautionLine
from fieldapp.ui.widgets.header import Header
from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.key_row import KeyRow
from fieldapp.ui.widgets.paged_list import PagedList
from fieldapp.ui.widgets.stated_row import StatedRow
from fieldapp.ui.widgets.stretch_card import StretchCard
from fieldapp.work.barriers import barrier_up
from schemas.findings import Verdict

__all__ = [
    "CautionLine",
    "EntryScreen",
    "Header",
    "Key",
    "KeyRow",
    "PagedList",
    "StatedRow",
    "StretchCard",
]


NOT_YET: Final = Stretch("", BEING_WORKED_OUT, str(Verdict.NOT_LOOKED_AT))
"""Of a heading that was not looked at yet: nothing of the one before it."""


class EntryScreen(PairedScreen):
    """What holds outbye and inbye of the entry line, and everything that was stated about it."""

    heading_id = StringProperty()
    page: EntryPage | None = ObjectProperty(None, allownone=True)
    title = StringProperty()
    outbye: Stretch = ObjectProperty(Stretch("", "", ""), rebind=True)
    inbye: Stretch = ObjectProperty(Stretch("", "", ""), rebind=True)
    stated = ListProperty()
    nothing = StringProperty()
    lies_wide = BooleanProperty(True)
    returns = BooleanProperty(False)
    """Whether the way out leads back to where somebody came from."""
    wants_barrier = BooleanProperty(False)
    may_inspect = BooleanProperty(False)
    may_lift = BooleanProperty(False)
    make_row: Any = ObjectProperty(None, allownone=True)

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self._looking = Looking(self.shell, self._look, self._show)
        self.make_row = self._make_row

    def opened(self, heading_id: str, *, returns: bool = False) -> None:
        """Show a heading; the way out is the board, or where somebody came from."""
        self.returns = returns
        if heading_id != self.heading_id:
            self.heading_id, self.title, self.page, self.stated = heading_id, "", None, []
            self.outbye = self.inbye = NOT_YET
            self.nothing = BEING_WORKED_OUT
            self.wants_barrier = self.may_inspect = self.may_lift = False
        self.refreshed()

    def refreshed(self) -> None:
        """Look at the heading anew."""
        self._looking.again()

    def leave(self) -> None:
        """Go to the board, or back to where somebody came from."""
        way = self.shell.go_back if self.returns else self.shell.to_board
        way()

    # --- what is done -------------------------------------------------------------------------

    def say_barrier_up(self) -> None:
        """State that the barrier stands."""
        shell = self.shell
        job = partial(barrier_up, shell.site, self.heading_id, shell.session)
        shell.do(job, then=lambda _done: self.refreshed())

    def inspect(self) -> None:
        """Ask for the inspection after everything that happened."""
        if self.page is not None:
            InspectedPanel(self.shell, self.heading_id, self.page).open()

    def lift(self) -> None:
        """Ask which notice is lifted, then for the barrier."""
        found = self.page.notices if self.page is not None else ()
        if len(found) == 1:
            self._to_notice(found[0])
            return
        sheet = KeySheet(_("Lift which one?"))
        for stated in found:
            sheet.offer(stated.title, partial(self._to_notice, stated))
        sheet.open()

    def restrict(self) -> None:
        """Ask to whom entry is restricted, from where and until when."""
        if self.page is not None:
            Restricting(self.shell, self.heading_id, self.page).ask()

    def report(self) -> None:
        """Report an event or damage here."""
        Reporting(self.shell, self.heading_id).ask()

    def touched(self, stated: Stated) -> None:
        """Go to what can be done about a row."""
        if stated.notice is not None:
            self._to_notice(stated)
        elif stated.event is not None:
            self.inspect()
        elif stated.damage:
            self.shell.open("rehab_list", damage_id=stated.damage)
        elif stated.failed_test:
            shown = {"heading_id": self.heading_id, "test_id": stated.failed_test}
            self.shell.open("bolt_tests", **shown)
        elif stated.intersection:
            shown = {"heading_id": self.heading_id, "thing": stated.intersection}
            self.shell.open("intersections", **shown)
        elif stated.batch:
            BatchDeciding(self.shell, stated.batch).show()

    # --- inside -------------------------------------------------------------------------------

    def _look(self) -> Callable[[], EntryPage]:
        return partial(entry_page, self.shell.site, self.heading_id, self.shell.now())

    def _show(self, page: EntryPage) -> None:
        if page.heading_id != self.heading_id:
            return
        self.page = page
        self.title = page.name
        self.outbye, self.inbye = page.outbye, page.inbye
        self.stated = page.stated
        self.nothing = _("No event or notice stands here. Nobody goes beyond the entry line.")
        self.wants_barrier = page.wants_barrier
        self.may_inspect = bool(page.events)
        self.may_lift = bool(page.notices)

    def _make_row(self, stated: Stated) -> StatedRow:
        leads = stated.damage or stated.failed_test or stated.batch or stated.intersection
        can_do = stated.notice or stated.event or leads
        role = "ordinary" if can_do else "row"
        return StatedRow(
            verdict=stated.verdict, title=stated.title, detail=stated.detail, role=role
        )

    def _to_notice(self, stated: Stated) -> None:
        NoticePanel(self.shell, stated).open()
