"""The Rehab list: what is to be repaired, the most urgent first, and how far each repair is."""

from collections.abc import Callable
from functools import partial
from typing import Any

from kivy.properties import BooleanProperty, ListProperty, ObjectProperty, StringProperty

from fieldapp.ui.looking import BEING_WORKED_OUT, Looking
from fieldapp.ui.paired import PairedScreen
from fieldapp.ui.rehab_work import BegunLine, RehabLine, begun_lines, rehab_lines
from fieldapp.ui.repair.repair_panel import RepairPanel
from fieldapp.ui.report_work import ask_report
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.asking import KeySheet
from fieldapp.ui.widgets.caution_line import CautionLine
from fieldapp.ui.widgets.header import Header
from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.key_row import KeyRow
from fieldapp.ui.widgets.paged_list import PagedList
from fieldapp.ui.widgets.stated_row import StatedRow
from fieldapp.work.site import Site

__all__ = ["CautionLine", "Header", "Key", "KeyRow", "PagedList", "RehabListScreen", "StatedRow"]


Seen = tuple[tuple[RehabLine, ...], tuple[BegunLine, ...]]


class RehabListScreen(PairedScreen):
    """Lines by urgency and place; a touch on one shows it and what can be done."""

    lines = ListProperty()
    subtitle = StringProperty()
    nothing = StringProperty(BEING_WORKED_OUT)
    awaits = BooleanProperty(False)
    """Whether something was stated, or somebody came here, since what is shown was looked at."""
    begun = ListProperty()
    returns = BooleanProperty(False)
    """Whether the way out leads back to where somebody came from."""
    begun_words = StringProperty()
    make_row: Any = ObjectProperty(None, allownone=True)

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self._looking = Looking(self.shell, self._look, self._show)
        self._wanted = frozenset[str]()
        self.make_row = _row

    def opened(self, damage_id: str = "", *, returns: bool = False) -> None:
        """Look at the list anew; where damage was just kept, show that.

        The way out is the board, or where somebody came from.
        """
        self._wanted, self.returns = frozenset(filter(None, (damage_id,))), returns
        self.awaited()
        self.refreshed()

    def awaited(self) -> None:
        """Let nobody act on what is shown: a row that is touched opens once it is as it stands."""
        self._looking.expect()
        self.awaits = True

    def refreshed(self) -> None:
        """Look again: what was due yesterday is overdue today."""
        self._looking.again()

    def leave(self) -> None:
        """Go to the board, or back to where somebody came from."""
        way = self.shell.go_back if self.returns else self.shell.to_board
        way()

    def touched(self, line: RehabLine) -> None:
        """Show a line and what can be done about it; a stale one once it was looked at again."""
        if self.awaits:
            self._wanted = _ids(line)
        else:
            RepairPanel(self.shell, line).open()

    def go_on(self) -> None:
        """Go on with damage that was begun; ask which, where there is more."""
        if len(self.begun) == 1:
            self._go_on(self.begun[0])
            return
        sheet = KeySheet(_("Go on with what?"), _("Nothing of it counts yet."))
        for line in self.begun:
            sheet.offer(line.where, partial(self._go_on, line), line.what)
        sheet.open()

    def report(self) -> None:
        """Ask which report is written."""
        ask_report(self.shell)

    def no_entry(self) -> None:
        """State no entry; the next touch confirms."""
        self.shell.no_entry()

    def _go_on(self, line: BegunLine) -> None:
        about, again = line.work.about, line.work.said.get("again")
        self.shell.open(
            "damage", heading_id=about.heading_id, again=again, corrects=about.corrects
        )

    def _look(self) -> Callable[[], Seen]:
        return partial(_seen, self.shell.site)

    def _show(self, seen: Seen) -> None:
        lines, self.begun = seen
        self.begun_words = self._begun_words()
        self.lines = lines
        self.awaits = not self._looking.is_last
        waiting = [it for it in lines if it.row.is_open]
        repaired = len(lines) - len(waiting)
        overdue = sum(it.row.is_overdue for it in waiting)
        self.subtitle = ", ".join(
            filter(
                None,
                (
                    _("{n} to repair").format(n=len(waiting)),
                    _("{n} overdue").format(n=overdue) if overdue else "",
                    _("{n} repaired below").format(n=repaired) if repaired else "",
                ),
            )
        )
        self.nothing = _("Nothing is to be repaired. Damage is recorded by Report, on the board.")
        if not self.awaits:
            self._open_wanted()

    def _open_wanted(self) -> None:
        """Show what was touched meanwhile, or what somebody came for."""
        wanted, self._wanted = self._wanted, frozenset()
        line = next((it for it in self.lines if wanted & _ids(it)), None)
        if line is not None:
            self.touched(line)

    def _begun_words(self) -> str:
        if len(self.begun) > 1:
            return _("{n} were begun").format(n=len(self.begun))
        return "".join(f"{it.where}: {it.what}" for it in self.begun)


def _seen(site: Site) -> Seen:
    return rehab_lines(site), begun_lines(site)


def _ids(line: RehabLine) -> frozenset[str]:
    """Give the ids by which a line is found again: what is planned gets another of its own."""
    return frozenset((line.row.id, *(it.id for it in line.row.damages)))


def _row(line: RehabLine) -> StatedRow:
    return StatedRow(verdict=line.verdict, title=line.title, detail=line.detail, role="ordinary")
