"""What is demanded here, and why: a class of the standard, or what holds in the whole mine."""

from dataclasses import dataclass
from functools import partial
from typing import Any
from zoneinfo import ZoneInfo

from kivy.clock import Clock
from kivy.properties import BooleanProperty, ListProperty, ObjectProperty, StringProperty

from fieldapp.assess.standard_words import Section, class_in_words, mine_in_words
from fieldapp.report.words.findings import day
from fieldapp.ui import theme
from fieldapp.ui.paired import PairedScreen
from fieldapp.ui.panels.heading_panel import HeadingPanel
from fieldapp.ui.standard_pages import Page, pages, sections_in
from fieldapp.ui.taking_off import TakingOff
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.demands import BLOCK_HEAD, BLOCK_SIDES, ROW_GAP, DemandPage, height_of
from fieldapp.ui.widgets.header import Header
from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.key_row import KeyRow
from fieldapp.ui.widgets.paged_list import PagedList
from fieldapp.work.headings import heading
from fieldapp.work.known import Known
from fieldapp.work.standard_in_force import NoStandard, in_force, to_come
from schemas.standard import Standard
from schemas.trouble import Trouble

__all__ = ["Header", "Key", "KeyRow", "PagedList", "StandardScreen"]

PAGE_KEYS_MM = 23
"""The keys that turn the pages, beside the list on a wide screen."""


@dataclass(frozen=True)
class Demanded:
    """The revision in force, and the class that is put up in a heading."""

    standard: Standard
    code: str | None
    to_come: Known[Standard] | None
    """Signed, and in force only later."""


@dataclass(frozen=True)
class ClassChoice:
    """A class on the keys that ask for one."""

    name: str
    entry: str
    code: str


class StandardScreen(PairedScreen):
    """The standard in words, a page at a time; opened on a heading it shows its class."""

    title = StringProperty()
    subtitle = StringProperty()
    revision = StringProperty()
    heading_id = StringProperty()
    code = StringProperty()
    whole_mine = BooleanProperty(False)
    to_come = StringProperty()
    class_title = StringProperty(_("Class"))
    class_words = StringProperty()
    classes = ListProperty()
    pages = ListProperty()
    nothing = StringProperty()
    may_edit = BooleanProperty(False)
    standard: Standard | None = ObjectProperty(None, allownone=True)
    make_page: Any = ObjectProperty(None, allownone=True)

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self.set_pages = Clock.create_trigger(self._set_pages, -1)
        self.make_page = self._make_page

    def no_entry(self) -> None:
        """State no entry, in this heading where one is known."""
        self.shell.no_entry(self.heading_id or None)

    def opened(self, heading_id: str = "", **_about: Any) -> None:
        """Look up what is in force now."""
        self.heading_id = heading_id
        session = self.shell.session
        self.may_edit = session is not None and session.has("geotechnical engineer")
        self.title = _("Support standard")
        job = partial(self._look_up, heading_id)
        self.shell.do(job, then=self._show, on_trouble=self._told)

    def choose_class(self) -> None:
        """Ask for another class."""
        HeadingPanel(_("Which support class?"), self.classes, self._take_class).open()

    def edit(self) -> None:
        """Make a new revision, as the engineer who answers for it, from the class in sight on."""
        codes = [it.code for it in self.classes]
        number = codes.index(self.code) if self.code in codes and not self.whole_mine else None
        self.shell.open("standard_editor", number=number)

    def take_off(self) -> None:
        """Show what the next round of a heading takes; first of which, where none is known."""
        TakingOff(self.shell, self.heading_id).ask()

    def show_mine(self) -> None:
        """Show what holds in the whole mine."""
        self.whole_mine = True
        self._turn_to_first()

    # --- inside -------------------------------------------------------------------------------

    def _look_up(self, heading_id: str) -> Demanded:
        site = self.shell.site
        code = heading(site, heading_id).body.support_class if heading_id else None
        now = self.shell.now()
        return Demanded(in_force(site, now).body, code, to_come(site, now))

    def _show(self, demanded: Demanded) -> None:
        standard = demanded.standard
        self.standard, self.revision, self.nothing = standard, standard.name, ""
        self.to_come = self._to_come(demanded.to_come)
        self.classes = [
            ClassChoice(_("Class {code}").format(code=known.code), known.title, known.code)
            for known in standard.classes
        ]
        codes = [known.code for known in standard.classes]
        wanted = demanded.code or self.code
        self.code = wanted if wanted in codes else codes[0]
        self.whole_mine = False
        self._turn_to_first()

    def _take_class(self, choice: ClassChoice) -> None:
        self.code, self.whole_mine = choice.code, False
        self._turn_to_first()

    def _turn_to_first(self) -> None:
        self.ids.demands.page = 0
        self.set_pages()

    def _set_pages(self, _elapsed: float) -> None:
        standard = self.standard
        if standard is None:
            return
        known = standard.support_class(self.code)
        self.class_title = _("Class {code}").format(code=self.code)
        self.class_words = known.title if known else ""
        self.subtitle = self._subtitle(standard)
        width = self._page_width
        self.pages = pages(
            self._sections(standard),
            lambda line: height_of(line, width - BLOCK_SIDES) + ROW_GAP,
            BLOCK_HEAD,
            self._page_height + theme.GAP,
        )

    @property
    def _page_height(self) -> float:
        demands = self.ids.demands
        return float(demands.height - (0 if demands.beside else theme.TOUCH + theme.GAP))

    @property
    def _page_width(self) -> float:
        demands = self.ids.demands
        return float(demands.width - (theme.mm(PAGE_KEYS_MM) if demands.beside else 0))

    def _sections(self, standard: Standard) -> tuple[Section, ...]:
        units = self.shell.site.settings.units
        if self.whole_mine:
            return sections_in(mine_in_words(standard), units)
        known = standard.support_class(self.code)
        return sections_in(class_in_words(known), units) if known else ()

    def _subtitle(self, standard: Standard) -> str:
        since = day(standard.effective_from, ZoneInfo(self.shell.site.settings.zone))
        if self.to_come:  # the keys below say what is in sight
            return _("since {day}; {to_come}").format(day=since, to_come=self.to_come)
        what = _("whole mine") if self.whole_mine else self.class_title
        return _("{what} · in force from {day}").format(what=what, day=since)

    def _to_come(self, known: Known[Standard] | None) -> str:
        if known is None:
            return ""
        since = day(known.body.effective_from, ZoneInfo(self.shell.site.settings.zone))
        return _("revision {revision} from {day}").format(revision=known.body.revision, day=since)

    def _make_page(self, page: Page) -> DemandPage:
        return DemandPage(page, self._page_width)

    def _told(self, trouble: Trouble) -> None:
        if not isinstance(trouble, NoStandard):
            self.shell.say(trouble)
            return
        self.standard, self.revision, self.subtitle = None, "", ""
        self.classes, self.pages = [], []
        self.nothing = str(trouble)
