"""The list of tests of support: which are due, what failed ones opened, and what was made."""

from collections.abc import Callable
from functools import partial
from typing import Any, Final, get_args

from kivy.properties import ListProperty, ObjectProperty, OptionProperty, StringProperty

from fieldapp.ui.board_words import board_now
from fieldapp.ui.bolt_test_list import (
    BegunTest,
    TestLine,
    TestsPage,
    another_like,
    gone_begun,
    tests_page,
)
from fieldapp.ui.looking import BEING_WORKED_OUT, Looking
from fieldapp.ui.paired import PairedScreen
from fieldapp.ui.panels.bolt_test_panel import BoltTestPanel
from fieldapp.ui.panels.heading_panel import HeadingPanel
from fieldapp.ui.photo.photo_sheet import PhotoSheet
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.asking import KeySheet
from fieldapp.ui.widgets.caution_line import CautionLine
from fieldapp.ui.widgets.header import Header
from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.key_row import KeyRow
from fieldapp.ui.widgets.paged_list import PagedList
from fieldapp.ui.widgets.stated_row import StatedRow
from fieldapp.work.damage.draft import DamageWork
from fieldapp.work.telling import engineers, tell_engineer
from schemas.bodies.told import ToldBy

__all__ = ["BoltTestsScreen", "CautionLine", "Header", "Key", "KeyRow", "PagedList", "StatedRow"]


VIEWS: Final = ("due", "made", "together")
TITLES: Final = {"due": _("Due"), "made": _("Made"), "together": _("Summary")}
NONE: Final = {
    "due": _("No test is due by the standard in force."),
    "made": _("No test was recorded yet."),
    "together": _("No test that can be judged was recorded yet."),
}


class BoltTestsScreen(PairedScreen):
    """Lines of tests; a touch on one that is due begins it, on one that was made shows it."""

    heading_id = StringProperty()
    """Only of this heading; empty: of all."""
    page: TestsPage | None = ObjectProperty(None, allownone=True)
    lines = ListProperty()
    shows = OptionProperty("due", options=VIEWS)
    next_view = StringProperty()
    subtitle = StringProperty()
    nothing = StringProperty()
    begun_words = StringProperty()
    make_row: Any = ObjectProperty(None, allownone=True)

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self._looking = Looking(self.shell, self._look, self._show)
        self._wanted = ""
        self.make_row = _row

    def opened(self, heading_id: str = "", test_id: str = "") -> None:
        """Look at the list anew; where a test was just kept, show what it came to."""
        self.heading_id, self._wanted = heading_id, test_id
        self.page, self.lines, self.subtitle, self.nothing = None, [], "", BEING_WORKED_OUT
        self.begun_words = ""
        self.shows, self.next_view = VIEWS[0], TITLES[VIEWS[1]]
        self.refreshed()

    def refreshed(self) -> None:
        """Look again: what was not due yesterday is due today."""
        self._looking.again()

    def turn(self) -> None:
        """Show what is due, then what was made, then what that tells together."""
        self.shows = _after(self.shows)
        self._fill()

    def touched(self, line: TestLine) -> None:
        """Begin a test that is due; show one that was made, and what can be done about it."""
        if line.known is None and line.began is not None:
            self._begin(line)
        else:
            self._tell(line)

    def record(self) -> None:
        """Record a test that is on no list: first where."""
        if self.heading_id:
            self._open(self.heading_id)
            return
        shell = self.shell
        shell.do(partial(board_now, shell.site, shell.now()), then=self._ask_where)

    def go_on(self) -> None:
        """Go on with a test that was begun; ask which, where there is more than one."""
        begun = self.page.begun if self.page else ()
        if len(begun) == 1:
            self._go_on(begun[0])
            return
        sheet = KeySheet(_("Go on with what?"), _("Nothing of it counts yet."))
        for one in begun:
            sheet.offer(one.where, partial(self._go_on, one), one.what)
        sheet.open()

    def no_entry(self) -> None:
        """State no entry; the next touch confirms."""
        self.shell.no_entry(heading_id=self.heading_id or None)

    # --- inside -------------------------------------------------------------------------------

    def _begin(self, line: TestLine) -> None:
        self._open(line.heading_id, began=line.began)

    def _go_on(self, begun: BegunTest) -> None:
        self._open(begun.work.about.heading_id, test_id=begun.work.test_id)

    def _ask_where(self, board: Any) -> None:
        HeadingPanel(_("Test of support: where?"), board.lines, self._record_in).open()

    def _record_in(self, line: Any) -> None:
        self._open(line.heading_id)

    def _open(self, heading_id: str, **about: Any) -> None:
        self.shell.open("bolt_test", heading_id=heading_id, list_of=self.heading_id, **about)

    def _tell(self, line: TestLine) -> None:
        panel = BoltTestPanel(line.title, line.place, line.result, line.follows)
        panel.draw(line.drawn)
        if line.opened is not None and line.opened.replaced == "to be recorded as damage":
            panel.offer(_("Record as damage"), partial(self._to_damage, line))
        if line.opened is not None and line.opened.replaced == "on the rehab list":
            panel.offer(_("Rehab list"), partial(self.shell.open, "rehab_list"))
        if line.began is not None:
            panel.offer(_("Test the next"), partial(self._begin, line), _("it follows"))
        elif line.known is not None:
            panel.offer(_("Test another"), partial(self._another, line), _("like this one"))
        if line.known is not None and line.engineer_untold:
            panel.offer(_("Engineer told"), partial(self._whom, line), _("who and how"))
        if line.known is not None:
            panel.offer(_("Put right"), partial(self._put_right, line))
            panel.offer(_("Photos"), partial(self._photos, line))
        panel.open()

    def _another(self, line: TestLine) -> None:
        """Ask where the next one is made: it begins with what is the same there."""
        if line.known is not None:
            begin = partial(another_like, line.known)
            sheet = KeySheet(_("Test another: where?"), line.title)
            for label, same_row in ((_("In the same row"), True), (_("Elsewhere"), False)):
                began = begin(same_row=same_row)
                sheet.offer(label, partial(self._open, line.heading_id, began=began))
            sheet.open()

    def _whom(self, line: TestLine) -> None:
        """Ask which engineer was told, then how; that it was now stands with it."""
        sheet = KeySheet(_("Which engineer was told?"), _("It opens and closes nothing."))
        for name in engineers(self.shell.site):
            sheet.offer(name, partial(self._how, line, name))
        sheet.open()

    def _how(self, line: TestLine, who: str) -> None:
        sheet = KeySheet(_("{name}: told how?").format(name=who))
        for by in get_args(ToldBy):
            sheet.offer(_(by), partial(self._told, line, who, by))
        sheet.open()

    def _told(self, line: TestLine, who: str, by: ToldBy) -> None:
        shell = self.shell
        if line.known is not None:
            job = partial(tell_engineer, shell.site, line.known.id, who, by, shell.session)
            shell.do(job, then=lambda _known: self.refreshed())

    def _photos(self, line: TestLine) -> None:
        if line.known is not None:
            again = partial(self._tell, line)
            PhotoSheet(self.shell, line.known.id, title=line.title, then=again).open()

    def _put_right(self, line: TestLine) -> None:
        if line.known is not None:
            self._open(line.heading_id, corrects=line.known.id)

    def _to_damage(self, line: TestLine) -> None:
        known, shell = line.known, self.shell
        if known is not None:
            shell.do(partial(gone_begun, shell.site, known), then=self._damage_begun)

    def _damage_begun(self, work: DamageWork) -> None:
        self.shell.open("damage", heading_id=work.about.heading_id, draft_id=work.damage_id)

    def _look(self) -> Callable[[], TestsPage]:
        return partial(tests_page, self.shell.site, self.heading_id)

    def _show(self, page: TestsPage) -> None:
        self.page = page
        self.begun_words = self._begun_words(page)
        self._fill()
        wanted, self._wanted = self._wanted, ""
        for line in page.made:
            if wanted and line.known is not None and line.known.id == wanted:
                self._tell(line)

    def _fill(self) -> None:
        page = self.page
        if page is None:
            return
        views = {"due": page.due, "made": page.made, "together": page.together}
        self.lines, self.next_view = views[self.shows], TITLES[_after(self.shows)]
        due = _("{n} due").format(n=page.waiting)
        failed = _("{n} failed, still open").format(n=page.failed) if page.failed else ""
        self.subtitle = ", ".join(filter(None, (due, failed)))
        self.nothing = NONE[self.shows]

    def _begun_words(self, page: TestsPage) -> str:
        if len(page.begun) > 1:
            return _("{n} were begun").format(n=len(page.begun))
        return "".join(f"{it.where}: {it.what}" for it in page.begun)


def _after(view: str) -> str:
    """Give the view that a touch leads to."""
    return VIEWS[(VIEWS.index(view) + 1) % len(VIEWS)]


def _row(line: TestLine) -> StatedRow:
    return StatedRow(verdict=line.verdict, title=line.title, detail=line.detail, role="ordinary")
