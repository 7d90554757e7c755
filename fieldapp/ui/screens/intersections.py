"""Intersections: the plan to one scale, what the standard says, and the cables step by step."""

from collections.abc import Callable
from functools import partial
from typing import Any

from kivy.properties import BooleanProperty, ListProperty, ObjectProperty, StringProperty

from fieldapp.report.intersection_picture import IntersectionPicture, Place
from fieldapp.ui import theme
from fieldapp.ui.intersection.marking import Marking
from fieldapp.ui.intersection.page import FindingLine, IntersectionPage, intersection_pages
from fieldapp.ui.intersection.stating import NewIntersection
from fieldapp.ui.looking import Looking
from fieldapp.ui.paired import PairedScreen
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
from fieldapp.work.intersection.steps import plate, put_in
from schemas.bodies.intersection import CableStep

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
        self._thing = ""
        self.make_row = _row

    def opened(self, heading_id: str = "", thing: str = "") -> None:
        """Look at what is stated; show one of them."""
        self.heading_id, self._thing = heading_id, thing
        self._pages = ()
        self._fill()
        self.refreshed()

    def refreshed(self) -> None:
        """Look again: grout has cured meanwhile."""
        self._looking.again()

    def choose(self) -> None:
        """Ask which, or state another."""
        lines = [Line(it.title, it.subtitle, partial(self._go, it.known.id)) for it in self._pages]
        state = Line(_("State an intersection"), _("where, its form, its class"), self._state_new)
        LinesPanel(_("Intersections"), "", [*lines, state]).open()

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
        """Ask which step of the cables was done."""
        page = self._page
        if page is None:
            return
        sheet = KeySheet(_("The cables: what was done?"), page.subtitle)
        sheet.offer(_("Drilled"), partial(self._ask_count, "drilled"))
        sheet.offer(_("Grouted"), partial(self._ask_count, "grouted"), _("they cure from then on"))
        sheet.offer(_("Plated"), partial(self._ask_count, "plated"), _("signed"), role="main")
        sheet.open()

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

    def _state_new(self) -> None:
        NewIntersection(self.shell, self._stated).ask()

    def _stated(self, known: Any) -> None:
        self._thing = known.id
        self.refreshed()

    def _ask_count(self, step: CableStep) -> None:
        page = self._page
        if page is not None:
            self.shell.ask_number(
                _("How many are {step} in all by now?").format(step=_(step)),
                partial(self._take_count, page.known.id, step),
                decimals=0,
                smallest="1",
                largest=f"{page.known.body.cables}",
                limit=_("{n} are planned").format(n=page.known.body.cables),
            )

    def _take_count(self, thing: str, step: CableStep, typed: str) -> None:
        shell, count = self.shell, int(typed)
        if step == "plated":
            question = _("Sign that {n} cables are plated").format(n=count)
            shell.ask_code(question, partial(self._sign, thing, count), shell.code_digits)
            return
        job = partial(put_in, shell.site, thing, shell.session, step, count, shell.now())
        shell.do(job, then=lambda _known: self.refreshed())

    def _sign(self, thing: str, count: int, code: str) -> None:
        shell = self.shell
        shell.do(
            partial(plate, shell.site, thing, shell.session, code, count, shell.now()),
            then=lambda _known: self.refreshed(),
            on_trouble=lambda it: shell.say_of_code(it, partial(self._ask_count, "plated")),
        )

    def _open_up(self) -> None:
        page, shell = self._page, self.shell
        if page is not None:
            job = partial(open_up, shell.site, page.known.id, shell.session)
            shell.do(job, then=lambda _event: self.refreshed())

    def _look(self) -> Callable[[], tuple[IntersectionPage, ...]]:
        return partial(intersection_pages, self.shell.site)

    def _show(self, pages: tuple[IntersectionPage, ...]) -> None:
        mine = [it for it in pages if self.heading_id in ("", it.known.body.heading)]
        self._pages = tuple(mine)
        self.nothing = "" if mine else _("No intersection is stated yet.")
        self._fill()

    def _fill(self) -> None:
        page = self._page
        self.title = _("Intersections") if page is None else page.title
        self.subtitle = "" if page is None else page.subtitle
        self.lines = [] if page is None else page.lines
        self.drawn = None if page is None else page.picture
        self.steps_done = "" if page is None else page.steps_done
        self.opened_words = "" if page is None else page.opened_words
        count = len(self._pages)
        number = self._pages.index(page) + 1 if page is not None else 0
        self.place = (
            _("{n} of {count}").format(n=number, count=count) if count else _("or state one")
        )


def _row(line: FindingLine) -> StatedRow:
    return StatedRow(
        verdict=line.verdict,
        title=line.title,
        detail=line.detail,
        role="row",
        height=ROW_HEIGHT,
    )
