"""The Round screen: the unrolled drive, the findings beside it, and one question at a time.

It holds no rule of the trade: what is asked is `fieldapp.work.questions`, what it means is
`fieldapp.assess`, and every touch is on the disk before the screen shows it as done.
"""

from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal
from functools import partial

from kivy.properties import BooleanProperty, ObjectProperty, StringProperty

from fieldapp.report.shapes import Bolt
from fieldapp.ui.mesh.placing_sheet import PlacingSheet
from fieldapp.ui.paired import PairedScreen
from fieldapp.ui.photo.photo_sheet import PhotoSheet
from fieldapp.ui.round_work import (
    EntryNow,
    Judged,
    OpenedRound,
    all_asked_words,
    bolt_asked,
    carried_words,
    entry_now,
    judged_now,
    load_map_words,
    opened_round,
    place_of,
    place_on_map,
    review_words,
    round_words,
    row_at,
    with_row_selected,
)
from fieldapp.ui.row_survey import RowSurvey
from fieldapp.ui.shell import Shell
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.caution_line import CautionLine
from fieldapp.ui.widgets.drive_map import DriveMap
from fieldapp.ui.widgets.header import Header
from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.key_row import KeyRow
from fieldapp.ui.widgets.question_panel import QuestionPanel
from fieldapp.ui.widgets.reading_pad import ReadingPad
from fieldapp.ui.widgets.round_sheets import Sheets, WaysOn
from fieldapp.ui.widgets.worst_findings import WorstFindings
from fieldapp.ui.work_figures import WorkFigures
from fieldapp.work.questions import Asker, Choice, OnPhoto, Question
from fieldapp.work.round import RoundWork
from fieldapp.work.round_view import RoundView, question_for, round_view
from fieldapp.work.rounds import keep_touch, undo
from fieldapp.work.touches import AnyTouch
from schemas.findings import Finding
from schemas.trouble import Trouble

__all__ = [
    "CautionLine",
    "DriveMap",
    "Header",
    "Key",
    "KeyRow",
    "QuestionPanel",
    "RoundScreen",
    "WorstFindings",
]


class RoundScreen(PairedScreen):
    """One round: touches go to its work, findings and the next question come back."""

    shell: Shell = ObjectProperty(None, allownone=True)
    work: RoundWork | None = ObjectProperty(None, allownone=True)
    view: RoundView | None = ObjectProperty(None, allownone=True)
    judged: Judged | None = ObjectProperty(None, allownone=True)
    wide = BooleanProperty(True)
    busy = BooleanProperty(False)
    """A touch is on its way to the disk: until it is there no other is taken."""
    shows_loads = BooleanProperty(False)
    """The map shows what each bolt carries, instead of what was found."""
    load_words = StringProperty("")
    ending = BooleanProperty(False)
    """The last answer was given: the review opens once it is known that nothing is left."""
    stating_figures = BooleanProperty(False)
    """A figure of the work is on its way to the disk: their list is shown again after it."""
    picked = StringProperty("")
    """Key of a question that a person went to."""
    heading_id = StringProperty("")
    heading_name = StringProperty("")
    subtitle = StringProperty("")
    saved = StringProperty("")
    entry_line = StringProperty("")
    held = StringProperty("")
    """What holds entry back here whatever is signed; empty where nothing does."""
    can_undo = BooleanProperty(False)
    way_out = StringProperty(_("Board"))
    mark_title = StringProperty(_("Mark one"))
    mark_second = StringProperty(_("loose, missing…"))
    more_title = StringProperty(_("More"))
    undo_title = StringProperty(_("Undo"))
    no_entry_title = StringProperty(_("No entry"))
    review_title = StringProperty(_("Review and sign"))
    review_second = StringProperty("")
    review_role = StringProperty("ordinary")

    # --- coming and going -------------------------------------------------------------------

    def opened(self, heading_id: str, finding: Finding | None = None) -> None:
        """Show the round of a heading: the one being recorded, or a new one."""
        self.heading_id, self.heading_name, self.subtitle, self.held = heading_id, "", "", ""
        self.busy, self.ending, self.picked, self.stating_figures = False, False, "", False
        self.shows_loads, self.load_words, self.ids.map.other = False, "", ""
        self.work, self.judged, self.view = None, None, None
        self.ids.map.drawing, self.ids.map.selected = None, None
        self.ids.question.show(None)
        self.ids.findings.findings, self.ids.findings.accepted = [], 0
        shell = self.shell
        shell.do(
            partial(opened_round, shell.site, heading_id, shell.session),
            then=partial(self._take_opened, finding),
            otherwise=self.to_board,
        )

    def refreshed(self) -> None:
        """Look again how far people may go: a permission may have ended meanwhile."""
        if self.work is not None:
            job = partial(entry_now, self.shell.site, self.heading_id)
            self.shell.do(job, then=self._take_entry)
            self._judge()

    def to_board(self) -> None:
        """Leave the round as it is: everything is on the disk."""
        self.shell.to_board()

    def review(self) -> None:
        """Go to Review and sign."""
        if self.work is not None:
            self.shell.open("review", heading_id=self.heading_id)

    def no_entry(self) -> None:
        """State no entry from where entry is allowed now; the next touch confirms."""
        self.shell.no_entry(heading_id=self.heading_id)

    # --- one touch --------------------------------------------------------------------------

    def answer(self, choice: Choice) -> None:
        """Give the answer that stands on a chip."""
        self.keep(choice.touch)

    def other_value(self, question: Question) -> None:
        """Ask for a value that stands on no chip."""
        ReadingPad(question, self.keep, self.measure).open()

    def measure(self, way: OnPhoto) -> None:
        """Have a value measured on a photo of the round."""
        self._photos(way)

    def keep(self, touch: AnyTouch) -> None:
        """Put a touch on the disk, then show what follows from it."""
        work = self.work
        if self.busy or work is None:
            return
        # The chip was made when the question was asked; the answer is given now.
        now = touch.model_copy(update={"at": self.shell.now(), "by": self.asker.by})
        self.send(partial(keep_touch, self.shell.site, work, now))

    def undo(self) -> None:
        """Take the last touch back."""
        work = self.work
        if self.busy or work is None:
            return
        self.send(partial(undo, self.shell.site, work, self.shell.now(), self.asker.by))

    def send(
        self,
        job: Callable[[], RoundWork],
        on_trouble: Callable[[Trouble], None] | None = None,
    ) -> None:
        """Have a job put something on the disk beside the screen; nothing else is taken then."""
        self.busy = True
        then = partial(self._kept, self.heading_id)
        self.shell.do(job, then=then, on_trouble=on_trouble, otherwise=self._not_kept)

    def _kept(self, heading_id: str, work: RoundWork) -> None:
        if heading_id != self.heading_id:
            return
        self.busy = False
        self.picked = ""
        was_open = self.view is not None and not self.view.is_complete
        self._take(work)
        if self.stating_figures:
            self.stating_figures = False
            self.work_figures()
        self.ending = was_open and self.view is not None and self.view.is_complete

    def _not_kept(self) -> None:
        self.busy = self.stating_figures = False

    @property
    def asker(self) -> Asker:
        """Who answers, and when by the clock on the mine's wall."""
        session = self.shell.session
        at = self.shell.local(self.shell.now())
        return Asker(at=at, by=session.person_id if session else None)

    # --- showing ----------------------------------------------------------------------------

    def _take_opened(self, finding: Finding | None, opened: OpenedRound) -> None:
        if opened.work.seen.heading != self.heading_id:
            return
        self._take_entry(opened.entry)
        self._take(opened.work, finding)

    def _take_entry(self, now: EntryNow) -> None:
        self.entry_line, self.held = now.line, now.held

    def _take(self, work: RoundWork, finding: Finding | None = None) -> None:
        self.work = work
        self.saved = _("on this tablet {time}").format(time=self.shell.clock_words())
        self._show()
        self._judge(finding)

    def _judge(self, finding: Finding | None = None) -> None:
        work, at, units = self.work, self.shell.now(), self.shell.site.settings.units
        session = self.shell.session

        def job() -> Judged | None:
            wanted = work is not None and work is self.work
            return judged_now(work, at, units, session) if work is not None and wanted else None

        self.shell.do(job, then=partial(self._take_judged, finding), lane="long")

    def _take_judged(self, finding: Finding | None, judged: Judged | None) -> None:
        if judged is None or judged.work is not self.work:
            return  # a later touch is being judged already
        self.judged = judged
        self._show()
        if finding is not None:
            self.show_finding(finding)
        if self.ending and self.view is not None and self.view.is_complete:
            self.ending = False
            self.review()

    def _show(self) -> None:
        work, shell = self.work, self.shell
        assert work is not None  # noqa: S101 - shown only once it is open
        known = replace(shell.known, crews=shell.site.settings.crews)
        assessment = self.judged.assessment if self.judged else None
        view = round_view(work, self.asker, known, assessment, picked=self.picked or None)
        self.view = view
        self.heading_name = work.heading.name
        self.subtitle = round_words(work, shell.site.settings.units)
        self.can_undo = work.can_undo
        self.ids.question.show(view.question, *all_asked_words(work))
        self.ids.findings.units = shell.site.settings.units
        self.ids.findings.findings = view.grave
        self.ids.findings.accepted = view.accepted
        self.review_second = review_words(view) if assessment else ""
        self.review_role = "main" if view.is_complete else "ordinary"
        self._show_map(view.question)

    def _show_map(self, question: Question | None) -> None:
        if self.judged is None:
            return
        loads = self.judged.loads
        shown = loads if self.shows_loads and loads is not None else self.judged.drawing
        drawing = with_row_selected(shown, question.row if question else None)
        self.ids.map.drawing = drawing
        self.load_words = load_map_words(shown) if shown is loads else ""
        other = _("Found") if self.shows_loads else _("Load")
        self.ids.map.other = other if loads is not None else ""
        if not self.picked:
            self.ids.map.selected = bolt_asked(drawing, question)

    def show_finding(self, finding: Finding) -> None:
        """Move the map to a finding, and ask the question that settles it."""
        if self.view is None or self.judged is None:
            return
        question = question_for(finding, self.view)
        self.picked = question.key if question else ""
        self._show()
        place = place_on_map(self.judged.drawing, finding)
        if place is not None:
            self.ids.map.focus(*place)

    def on_kv_post(self, _base: object) -> None:
        # Inside its own look the ids are not there before this.
        self.fbind("wide", self._place_keys)
        self._place_keys()

    def _place_keys(self, *_args: object) -> None:
        """Put the keys below the map, or below everything on an upright tablet."""
        # ids hold weakly: between its two places nothing else keeps the row
        keys, place = self.ids.key_row.__self__, self.ids.left if self.wide else self.ids.foot
        if keys.parent is not place:
            keys.parent.remove_widget(keys)
            place.add_widget(keys)

    # --- the map ----------------------------------------------------------------------------

    @property
    def sheets(self) -> Sheets:
        """The panels of this round as it is now."""
        assert self.work is not None  # noqa: S101 - there is no map before
        return Sheets(self.work, self.asker, self.keep)

    def other_map(self) -> None:
        """Show what each bolt carries, or what was found again."""
        if self.judged is not None:
            self.shows_loads = not self.shows_loads
            self._show_map(self.view.question if self.view else None)

    def bolt_touched(self, bolt: Bolt) -> None:
        """Ask what is to be said of a bolt."""
        if self.work is not None:
            self.ids.map.selected = (bolt.x_m, bolt.s_m)
            carries = carried_words(self.ids.map.drawing, bolt)
            self.sheets.bolt(place_of(self.work, bolt), carries)

    def bolts_touched(self, bolts: tuple[Bolt, ...], x_m: float, s_m: float) -> None:
        """Ask which of several bolts was meant, or the place between them."""
        self.sheets.choose(bolts, self.bolt_touched, partial(self.ground_touched, x_m, s_m))

    def ground_touched(self, x_m: float, s_m: float) -> None:
        """Ask what is to be said of a place where no bolt is."""
        self.ids.map.selected = (x_m, s_m)
        self.sheets.ground(x_m, s_m, row_at(self.ids.map.drawing, x_m))

    def mark_one(self) -> None:
        """Ask for the row and the bolt by number: a glove can't always hit it on the map."""
        if self.judged is not None:
            row = self.view.question.row if self.view and self.view.question else None
            self.sheets.mark_one(self.judged.drawing, row, self.bolt_touched)

    def more(self) -> None:
        """Offer what is asked seldom: rows, profile, notes, an earlier question."""
        if self.view is not None and self.work is not None:
            tests, crossings = (
                partial(self.shell.open, name, heading_id=self.heading_id)
                for name in ("bolt_tests", "intersections")
            )
            survey = RowSurvey(self, self.work).ask
            ways = WaysOn(
                self.photos, tests, crossings, self.work_figures, self.place_mesh, survey
            )
            self.sheets.more(self.view.asked, self.ask_again, ways)

    def place_mesh(self) -> None:
        """Place sheets of mesh on the drive, one after another."""
        PlacingSheet(self, self.shell.site.settings.units).open()

    def work_figures(self) -> None:
        """Show what may be stated of the work, and ask for what is touched."""
        if self.work is not None:
            WorkFigures(self.work, self.asker, self._keep_figure).open()

    def _keep_figure(self, touch: AnyTouch) -> None:
        """Keep what was stated, then show the list again."""
        self.stating_figures = not self.busy
        self.keep(touch)

    def photos(self) -> None:
        """Show the photos of this round."""
        self._photos()

    def _photos(self, way: OnPhoto | None = None) -> None:
        if self.work is None:
            return
        title = _("Photos of {round}").format(round=_(self.work.seen.name))
        shell, of = self.shell, self.work.round_id
        if way is None:
            PhotoSheet(shell, of, title=title).open()
            return

        def measured(_quantity: str, value_mm: Decimal, plus_minus_mm: Decimal) -> None:
            self.keep(way.touch(value_mm, plus_minus_mm / 2))  # ± is twice the standard one

        PhotoSheet(shell, of, title=title, on_measured=measured, quantity=way.quantity).open()

    def ask_again(self, question: Question) -> None:
        """Ask a question again that was answered."""
        self.picked = question.key
        self._show()
