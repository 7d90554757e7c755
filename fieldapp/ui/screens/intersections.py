"""Intersections: the plan to one scale, what the standard says, and the cables step by step."""

from collections.abc import Callable
from functools import partial
from typing import Any

from kivy.properties import BooleanProperty, ListProperty, ObjectProperty, StringProperty

from fieldapp.report.intersection_picture import IntersectionPicture, Place
from fieldapp.ui import theme
from fieldapp.ui.board_words import board_now
from fieldapp.ui.intersection.marking import Marking
from fieldapp.ui.intersection.page import (
    FindingLine,
    IntersectionPage,
    IntersectionsSeen,
    intersections_seen,
)
from fieldapp.ui.intersection.plating import Plating
from fieldapp.ui.intersection.stating import BegunLine
from fieldapp.ui.looking import Looking
from fieldapp.ui.paired import PairedScreen
from fieldapp.ui.panels.heading_panel import HeadingPanel
from fieldapp.ui.panels.lines_panel import Line, LinesPanel
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.asking import KeySheet
from fieldapp.ui.widgets.caution_line import CautionLine
from fieldapp.ui.widgets.header import Header
from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.key_row import KeyRow
from fieldapp.ui.widgets.paged_list import PagedList
from fieldapp.ui.widgets.plan_plot import PlanPlot
from fieldapp.ui.widgets.stated_row import StatedRow
from fieldapp.work.intersection.seen import open_up

__all__ = [
    "CautionLine",
    "Header",
    "IntersectionsScreen",
    "Key",
    "KeyRow",
    "PagedList",
    "PlanPlot",
    "StatedRow",
]


ROW_HEIGHT = theme.mm(20)


class IntersectionsScreen(PairedScreen):
    """One intersection after another; a touch on the plan marks what stands there."""

    heading_id = StringProperty()
    """Only of this heading; empty: of all."""
    title = StringProperty()
    subtitle = StringProperty()
    nothing = StringProperty()
    choose_title = StringProperty(_("Choose"))
    place = StringProperty()
    """Which of them it is: "2 of 3"."""
    steps_done = StringProperty()
    opened_words = StringProperty()
    lines = ListProperty()
    drawn: IntersectionPicture | None = ObjectProperty(None, allownone=True)
    make_row: Any = ObjectProperty(None, allownone=True)
    wide = BooleanProperty(True)

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self._looking = Looking(self.shell, self._look, self._show)
        self._pages: tuple[IntersectionPage, ...] = ()
        self._begun: tuple[BegunLine, ...] = ()
        self._thing = ""
        self.make_row = _row

    def opened(self, heading_id: str = "", thing: str = "") -> None:
        """Look at what is stated; show one of them."""
        self.heading_id, self._thing = heading_id, thing
        self._pages, self._begun = (), ()
        self._fill()
        self.refreshed()

    def refreshed(self) -> None:
        """Look again: grout has cured meanwhile."""
        self._looking.again()

    def choose(self) -> None:
        """Ask which, go on with one that was begun, put one right, or state another."""
        lines = [Line(it.title, it.subtitle, partial(self._go, it.known.id)) for it in self._pages]
        begun = [Line(it.title, it.detail, partial(self._go_on, it)) for it in self._begun]
        new = Line(_("State an intersection"), _("where, its form, its class"), self._state_new)
        page = self._page
        right = [] if page is None else [self._put_right_line(page)]
        LinesPanel(_("Intersections"), "", [*begun, *lines, *right, new]).open()

    def mark(self) -> None:
        """Ask about all bolts or cables at once."""
        page = self._page
        if page is not None:
            Marking(self.shell, page, self.refreshed).ask()

    def touched(self, place: Place, mm_per_m: float) -> None:
        """Ask what stands at a place of the plan."""
        page = self._page
        if page is not None:
            Marking(self.shell, page, self.refreshed).at(place, mm_per_m)

    def ask_step(self) -> None:
        """Ask which step of the cables was done, or why they don't count."""
        page = self._page
        if page is not None:
            Plating(self.shell, page, self.refreshed).ask()

    def ask_breakaway(self) -> None:
        """Ask once more: it withdraws entry at once."""
        note = _(
            "It is a blast in this heading: entry near it is withdrawn until somebody inspects."
        )
        sheet = KeySheet(_("The breakaway was taken, now?"), note)
        sheet.offer(_("It was taken"), self._open_up, role="main")
        sheet.open()

    def no_entry(self) -> None:
        """State no entry; the next touch confirms."""
        page = self._page
        self.shell.no_entry(heading_id=page.known.body.heading if page else None)

    # --- inside -------------------------------------------------------------------------------

    @property
    def _page(self) -> IntersectionPage | None:
        known = {it.known.id: it for it in self._pages}
        return known.get(self._thing) or next(iter(self._pages), None)

    def _go(self, thing: str) -> None:
        self._thing = thing
        self._fill()

    def _go_on(self, begun: BegunLine) -> None:
        self.shell.open("intersection", heading_id=begun.heading_id, draft_id=begun.draft_id)

    def _put_right_line(self, page: IntersectionPage) -> Line:
        body = page.known.body
        right = partial(
            self.shell.open, "intersection", heading_id=body.heading, corrects=page.known.id
        )
        title = _("Put right: {title}").format(title=page.title)
        return Line(title, _("its place, form, class or number of cables"), right)

    def _state_new(self) -> None:
        shell = self.shell
        if self.heading_id:
            shell.open("intersection", heading_id=self.heading_id)
            return
        shell.do(partial(board_now, shell.site, shell.now()), then=self._ask_where)

    def _ask_where(self, board: Any) -> None:
        state = partial(self.shell.open, "intersection")
        title = _("An intersection: in which heading?")
        HeadingPanel(title, board.lines, lambda line: state(heading_id=line.heading_id)).open()

    def _open_up(self) -> None:
        page, shell = self._page, self.shell
        if page is not None:
            job = partial(open_up, shell.site, page.known.id, shell.session)
            shell.do(job, then=lambda _event: self.refreshed())

    def _look(self) -> Callable[[], IntersectionsSeen]:
        return partial(intersections_seen, self.shell.site)

    def _show(self, seen: IntersectionsSeen) -> None:
        mine = [it for it in seen.pages if self.heading_id in ("", it.known.body.heading)]
        begun_here = [it for it in seen.begun if self.heading_id in ("", it.heading_id)]
        self._pages, self._begun = tuple(mine), tuple(begun_here)
        nothing = _("No intersection is stated yet.")
        begun = _("One was begun and not stated yet: Choose leads to it.")
        self.nothing = "" if mine else begun if self._begun else nothing
        self._fill()

    def _fill(self) -> None:
        page = self._page
        self.title = _("Intersections") if page is None else page.title
        self.subtitle = "" if page is None else page.subtitle
        self.lines = [] if page is None else page.lines
        self.drawn = None if page is None else page.picture
        self.steps_done = "" if page is None else page.steps_done
        self.opened_words = "" if page is None else page.opened_words
        self.place = self._place_words(page)

    def _place_words(self, page: IntersectionPage | None) -> str:
        if self._begun:
            return _("{n} begun").format(n=len(self._begun))
        if page is None:
            return _("or state one")
        number, count = self._pages.index(page) + 1, len(self._pages)
        return _("{n} of {count}").format(n=number, count=count)


def _row(line: FindingLine) -> StatedRow:
    return StatedRow(
        verdict=line.verdict,
        title=line.title,
        detail=line.detail,
        role="row",
        height=ROW_HEIGHT,
    )
