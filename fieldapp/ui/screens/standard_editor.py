"""The editor of the standard: a new revision from the last, checked and drawn as it is edited."""

from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import Any

from kivy.properties import (
    BooleanProperty,
    ListProperty,
    NumericProperty,
    ObjectProperty,
    StringProperty,
)

from fieldapp.ui import theme
from fieldapp.ui.editing.signing import Signing
from fieldapp.ui.field_asking import FieldAsking
from fieldapp.ui.paired import PairedScreen
from fieldapp.ui.panels.folder_panel import IMPORTS, FolderPanel
from fieldapp.ui.panels.lines_panel import Line, LinesPanel
from fieldapp.ui.past_rounds import PastRounds
from fieldapp.ui.standard_edit_work import (
    GAP,
    EditPage,
    class_of,
    count_words,
    edit_page,
    group_around,
    group_words,
    hint_words,
    mark_of,
    proposal_words,
    value_words,
    with_count,
)
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.asking import KeySheet
from fieldapp.ui.widgets.drive_map import DriveMap
from fieldapp.ui.widgets.header import Header
from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.key_row import KeyRow
from fieldapp.ui.widgets.paged_list import PagedList
from fieldapp.ui.widgets.stated_row import StatedRow
from fieldapp.ui.widgets.words import Words
from fieldapp.work.standard_editing import (
    Field,
    Group,
    StandardWork,
    Steps,
    begin_revision,
    discard,
    put_in,
    set_field,
    take_away,
    take_from_file,
    undo,
)
from schemas.trouble import Trouble

__all__ = [
    "DriveMap",
    "Header",
    "Key",
    "KeyRow",
    "PagedList",
    "StandardEditorScreen",
    "StatedRow",
    "Words",
]


class StandardEditorScreen(PairedScreen):
    """Parts of a class, or of the whole mine; a touch on one leads to its figures."""

    title = StringProperty()
    subtitle = StringProperty()
    said = StringProperty()
    groups = ListProperty()
    row_height = NumericProperty()
    can_undo = BooleanProperty(False)
    can_sign = BooleanProperty(False)
    changed = StringProperty()
    to_know = StringProperty()
    busy = BooleanProperty(False)
    make_row: Any = ObjectProperty(None, allownone=True)
    fill_row: Any = ObjectProperty(None, allownone=True)
    page: EditPage | None = ObjectProperty(None, allownone=True)

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self.make_row, self.fill_row = self._make_row, self._fill_row
        self._number: int | None = 0
        self._then: Callable[[], None] | None = None
        self._past = PastRounds(self.shell, self._say)
        self._signing = Signing(self.shell, self._run_signing)

    def opened(self, number: int | None = 0) -> None:
        """Go on with the revision that was begun, or begin one."""
        self._number = number
        self.title = _("New revision")
        shell = self.shell
        self._run(lambda: begin_revision(shell.site, shell.session))

    def on_leave(self) -> None:
        """Judge no more rounds for a screen that is not in sight."""
        self._past.stop()

    # --- what is in sight ---------------------------------------------------------------------

    def ask_class(self) -> None:
        """Ask for a class, or for what holds in the whole mine."""
        page = self.page
        if page is None:
            return
        lines = [
            Line(
                str(it["code"]),
                with_count(page.faults_of(number), str(it["title"])),
                partial(self._look_at, number),
                mark_of(page.faults_of(number)),
            )
            for number, it in enumerate(page.work.document["classes"])
        ]
        of_mine = page.faults_of(None)
        words = with_count(of_mine, _("events, repairs, walks, tests"))
        mine = Line(_("Whole mine"), words, self._look_at_mine, mark_of(of_mine))
        one_more = Line(
            _("One more class"), _("a copy of the last"), partial(self._put_in, ("classes",))
        )
        LinesPanel(_("Which support class?"), self.subtitle, [*lines, mine, one_more]).open()

    def touched(self, group: Group) -> None:
        """Show the figures of a part."""
        page = self.page
        if page is None:
            return
        lines = [
            Line(
                self._field_title(it),
                "; ".join(one.words for one in page.faults_at(it)) or hint_words(it),
                partial(self._ask_field, it, group.steps),
                mark_of(page.faults_at(it)),
            )
            for it in group.fields
        ]
        if group.one_of_several:
            away = partial(self._take_away, group.steps)
            lines.append(Line(_("Take it away"), _("the whole of it"), away))
        LinesPanel(group.title, _("touch what is to be changed"), lines).open()

    def show_changes(self) -> None:
        """Show what is not as in the revision before, and lead to the rounds of the past year."""
        page = self.page
        if page is None:
            return
        rounds = Line(
            _("Rounds of the past year"),
            _("which it would have judged differently"),
            partial(self._past.begin, page),
        )
        file = Line(
            _("Take it from a file"), _("a standard that was written elsewhere"), self._choose_file
        )
        lines = [Line(it.words, f"{it.after}, was {it.before}") for it in page.changes]
        let_go = Line(_("Let this revision go"), _("nothing of it is kept"), self._let_go)
        more = [rounds, file, *lines, *([let_go] if page.changes else [])]
        LinesPanel(_("What changed"), self.changed, more).open()

    def show_faults(self) -> None:
        """Show what the check of the standard says, and the gap limits that it proposes."""
        page = self.page
        if page is None:
            return
        lines = [
            Line(it.words, it.detail, partial(self._go_to, it.steps), mark_of((it,)))
            for it in page.faults
        ]
        if page.proposed is not None:
            title = _("Take the proposed gap limits")
            take = partial(self._take_proposed, page)
            lines.insert(0, Line(title, proposal_words(page.proposed), take))
        sound = "" if lines else _("Nothing stands against it.")
        note = " ".join(filter(None, (page.drawn, sound)))
        LinesPanel(_("What the check says"), note, lines, theme.mm(26)).open()

    # --- what is done -------------------------------------------------------------------------

    def undo(self) -> None:
        """Take back the last thing that was changed."""
        site, by = self.shell.site, self._by
        self._send(lambda work: undo(site, work, by))

    def sign(self) -> None:
        """Ask from when it is to be in force, then for the sign code."""
        if self.page is not None:
            self._signing.ask(self.page)

    # --- inside -------------------------------------------------------------------------------

    @property
    def _by(self) -> str | None:
        session = self.shell.session
        return session.person_id if session else None

    def _say(self, words: str) -> None:
        self.said = words

    def _run(self, step: Callable[[], StandardWork]) -> None:
        if self.busy:
            return
        self.busy = True
        number, site = self._number, self.shell.site
        self.shell.do(
            lambda: edit_page(site, step(), number), then=self._take, otherwise=self._not_kept
        )

    def _send(self, step: Callable[[StandardWork], StandardWork]) -> None:
        page = self.page
        if page is not None:
            self._run(lambda: step(page.work))

    def _not_kept(self) -> None:
        self.busy, self._then = False, None
        if self.page is None:
            self.shell.go_back()

    def _take(self, page: EditPage) -> None:
        self.busy, self.page, self._number = False, page, page.number
        document = page.work.document
        self.subtitle = _("{code} revision {revision}, not signed yet").format(
            code=document["code"], revision=document["revision"]
        )
        self.groups, self.said = list(page.groups), page.said
        self.can_undo = page.work.can_undo
        self.can_sign = bool(page.changes) and not any(it.grave for it in page.faults)
        self.changed = _("{count} changed").format(count=len(page.changes))
        self.to_know = count_words(page.faults) or _("nothing stands against it")
        self.ids.map.drawing = page.drawing
        then, self._then = self._then, None
        if then is not None:
            then()

    def _look_at(self, number: int | None) -> None:
        self._number = number
        self.ids.parts.page = 0
        self._send(lambda work: work)

    def _look_at_mine(self) -> None:
        self._look_at(None)

    def _go_to(self, steps: Steps) -> None:
        """Show the part in which something stands, of whatever class."""
        self._number = class_of(steps)
        self._then = partial(self._show_around, steps)
        self._send(lambda work: work)

    def _show_around(self, steps: Steps) -> None:
        group = group_around(self.page, steps) if self.page else None
        if group is not None:
            self.touched(group)

    def _field_title(self, field: Field) -> str:
        return f"{field.title}: {value_words(field)}"

    def _ask_field(self, field: Field, group: Steps) -> None:
        FieldAsking(self.shell, partial(self._set, group), self._put_in).ask(field)

    def _set(self, group: Steps, field: Field, value: Any) -> None:
        """Set a field, then show the part that it belongs to again."""
        site, by = self.shell.site, self._by
        self._then = partial(self._show_around, group)
        self._send(lambda work: set_field(site, work, field.steps, value, by))

    def _put_in(self, steps: Steps) -> None:
        site, by = self.shell.site, self._by
        self._send(lambda work: put_in(site, work, steps, by))

    def _take_away(self, steps: Steps) -> None:
        site, by = self.shell.site, self._by
        self._send(lambda work: take_away(site, work, steps, by))

    def _choose_file(self) -> None:
        start = self.shell.site.folder / IMPORTS
        FolderPanel(_("Which file?"), start, self._take_file, (".json",), newest_first=True).open()

    def _take_file(self, path: Path) -> None:
        site, by = self.shell.site, self._by
        self._then = self.show_faults
        self._send(lambda work: take_from_file(site, work, path, by))

    def _take_proposed(self, page: EditPage) -> None:
        site, by, proposed = self.shell.site, self._by, page.proposed
        assert page.number is not None  # noqa: S101 - only a class has a proposal
        assert proposed is not None  # noqa: S101 - the line is there where there is one
        gap: Steps = ("classes", page.number, *GAP)

        def both(work: StandardWork) -> StandardWork:
            rework, no_entry = str(proposed.rework_above_m), str(proposed.no_entry_above_m)
            work = set_field(site, work, (*gap, "at_most_m"), rework, by)
            return set_field(site, work, (*gap, "no_entry_above_m"), no_entry, by)

        self._send(both)

    # --- signing ------------------------------------------------------------------------------

    def _run_signing(self, job: Callable[[], Any], on_trouble: Callable[[Trouble], None]) -> None:
        if not self.busy:
            self.busy = True
            self.shell.do(job, then=self._signed, on_trouble=on_trouble, otherwise=self._not_kept)

    def _signed(self, _known: object) -> None:
        self.busy, self.page = False, None
        self.shell.open("standard")

    def _let_go(self) -> None:
        page, shell = self.page, self.shell
        if page is not None:
            sheet = KeySheet(_("Let this revision go?"), self.changed)
            job = partial(discard, shell.site, page.work)
            sheet.offer(
                _("Let it go"),
                lambda: shell.do(job, then=lambda _done: self._gone()),
                role="grave",
            )
            sheet.open()

    def _gone(self) -> None:
        self.page = None
        self.shell.go_back()

    def _make_row(self, group: Group) -> StatedRow:
        row = StatedRow(role="ordinary")
        self._fill_row(row, group)
        return row

    def _fill_row(self, row: StatedRow, group: Group) -> None:
        faults = self.page.faults_in(group) if self.page else ()
        row.verdict = mark_of(faults)
        row.detail = with_count(faults, group_words(group))
        row.title, row.height = group.title, self.row_height
