"""The Round screen: the unrolled drive, the findings beside it, and one question at a time.

It holds no rule of the trade: what is asked is `fieldapp.work.questions`, what it means is
`fieldapp.assess`, and every touch is on the disk before the screen shows it as done.
"""

from collections.abc import Callable
from decimal import Decimal

from kivy.properties import BooleanProperty, NumericProperty, ObjectProperty, StringProperty
from kivy.uix.gridlayout import GridLayout

from fieldapp.report.lengths import limit_words, measured_words
from fieldapp.report.shapes import Bolt
from fieldapp.ui import theme
from fieldapp.ui.paired import PairedScreen, PairedWidget
from fieldapp.ui.round_work import (
    Judged,
    OpenedRound,
    judged_now,
    opened_round,
    place_of,
    review_words,
    round_words,
    stage_words,
)
from fieldapp.ui.shell import Shell
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.chip import Chip
from fieldapp.ui.widgets.drive_map import DriveMap
from fieldapp.ui.widgets.finding_row import FindingRow
from fieldapp.ui.widgets.header import Header
from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.key_row import KeyRow
from fieldapp.ui.widgets.round_sheets import (
    BoltSheet,
    ChooserSheet,
    GroundSheet,
    MoreSheet,
    PadSheet,
)
from fieldapp.ui.widgets.words import Words
from fieldapp.work.questions import Asker, Choice, Known, Question
from fieldapp.work.round import RoundWork
from fieldapp.work.round_view import RoundView, question_for, round_view
from fieldapp.work.rounds import keep_touch, undo
from fieldapp.work.touches import AnyTouch
from schemas.findings import Finding

__all__ = ["DriveMap", "Header", "Key", "KeyRow", "RoundScreen", "Words"]

FINDINGS_BESIDE = {0: 3, 1: 2, 2: 1}
"""How many findings fit above so many lines of answers, on a wide screen."""
FINDINGS_BELOW = 1
"""On a narrow screen, below the map."""
SHORT_ANSWER = 8
"""Letters that fit on a chip when three stand beside each other."""


class AnswerGrid(PairedWidget, GridLayout):
    """The answers to the question now, each on a chip; as many beside each other as fit."""

    chip_height = NumericProperty(theme.TOUCH)

    def show(self, chips: list[Chip], *, beside: int) -> None:
        """Lay out these chips, so many beside each other."""
        self.clear_widgets()
        self.cols = max(1, beside)
        for chip in chips:
            chip.height = self.chip_height
            self.add_widget(chip)


class RoundScreen(PairedScreen):
    """One round: touches go to its work, findings and the next question come back."""

    shell: Shell = ObjectProperty(None, allownone=True)
    work: RoundWork = ObjectProperty(None, allownone=True)
    view: RoundView = ObjectProperty(None, allownone=True)
    judged: Judged | None = ObjectProperty(None, allownone=True)
    wide = BooleanProperty(True)
    busy = BooleanProperty(False)
    """A touch is on its way to the disk: until it is there no other is taken."""
    picked = StringProperty("")
    heading_id = StringProperty("")
    heading_name = StringProperty("")
    subtitle = StringProperty("")
    saved = StringProperty("")
    entry_line = StringProperty("")
    badge = StringProperty("")
    ask = StringProperty("")
    hint = StringProperty("")
    stage_words = StringProperty("")
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
        self.heading_id = heading_id
        self.picked = ""
        self.busy = True
        shell = self.shell

        def job() -> OpenedRound:
            return opened_round(shell.site, heading_id, shell.session)

        def then(opened: OpenedRound) -> None:
            self.busy = False
            self.entry_line = opened.entry_words
            self._take(opened.work)
            if finding is not None:
                self.show_finding(finding)

        shell.do(job, then=then)

    def to_board(self) -> None:
        """Leave the round as it is: everything is on the disk."""
        self.shell.open("shift_board")

    def review(self) -> None:
        """Go to Review and sign."""
        if self.work is not None:
            self.shell.open("review", heading_id=self.heading_id)

    def no_entry(self) -> None:
        """State no entry from where entry is allowed now; the next touch confirms."""
        self.shell.no_entry(heading_id=self.heading_id)

    # --- one touch --------------------------------------------------------------------------

    def keep(self, touch: AnyTouch) -> None:
        """Put a touch on the disk, then show what follows from it."""
        if self.busy or self.work is None:
            return
        site, work = self.shell.site, self.work
        self._send(lambda: keep_touch(site, work, touch))

    def undo(self) -> None:
        """Take the last touch back."""
        if self.busy or self.work is None:
            return
        site, work, asker = self.shell.site, self.work, self.asker
        self._send(lambda: undo(site, work, asker.at, asker.by))

    def _send(self, job: Callable[[], RoundWork]) -> None:
        self.busy = True
        self.shell.touched()
        self.shell.do(job, then=self._kept, otherwise=self._not_kept)

    def _kept(self, work: RoundWork) -> None:
        self.busy = False
        self.picked = ""
        complete = self.view.is_complete
        self._take(work)
        if self.view.is_complete and not complete:
            self.review()

    def _not_kept(self) -> None:
        self.busy = False

    @property
    def asker(self) -> Asker:
        """Who answers now."""
        session = self.shell.session
        return Asker(at=self.shell.now(), by=session.person_id if session else None)

    # --- showing ----------------------------------------------------------------------------

    def _take(self, work: RoundWork) -> None:
        self.work = work
        self.saved = _("on this tablet {time}").format(time=self.shell.clock_words())
        self._show()
        self._judge()

    def _judge(self) -> None:
        work, at = self.work, self.shell.now()
        self.shell.do(lambda: judged_now(work, at), then=self._take_judged, lane="long")

    def _take_judged(self, judged: Judged) -> None:
        if judged.work is not self.work:
            return
        self.judged = judged
        self.ids.map.drawing = judged.drawing
        self._show()

    def _show(self) -> None:
        work, shell = self.work, self.shell
        known = Known(crews=shell.site.settings.crews, batches=shell.batches)
        assessment = None if self.judged is None else self.judged.assessment
        self.view = round_view(work, self.asker, known, assessment, picked=self.picked or None)
        self.heading_name = work.heading.name
        self.subtitle = round_words(work)
        self.badge = shell.badge
        self.can_undo = work.can_undo
        self._show_question(self.view.question)
        self._show_findings()
        self.review_second = review_words(self.view)
        self.review_role = "main" if self.view.is_complete else "ordinary"

    def _show_question(self, question: Question | None) -> None:
        self.stage_words = stage_words(self.view)
        if question is None:
            self.ask, self.hint = _("Everything was asked."), _("Review it, then sign.")
            self.ids.answers.show([], beside=1)
            return
        self.ask, self.hint = question.ask, question.hint
        self._answers(question)

    def _answers(self, question: Question) -> None:
        chips = [self._chip(choice) for choice in question.choices]
        if question.digits is not None:
            other = Chip(value=_("Other…"), unit=question.digits.unit)
            other.bind(on_release=lambda *_: PadSheet(question, self.keep).open())
            chips.append(other)
        longest = max((len(chip.value) for chip in chips), default=0)
        beside = 3 if longest <= SHORT_ANSWER else 2
        self.ids.answers.show(chips, beside=beside)

    def _chip(self, choice: Choice) -> Chip:
        chip = Chip(value=choice.label, unit=choice.note)
        chip.bind(on_release=lambda *_: self.keep(choice.touch))
        return chip

    def _show_findings(self) -> None:
        box = self.ids.findings
        box.clear_widgets()
        units = self.shell.site.settings.units
        for finding in self.view.grave[: self._findings_shown()]:
            row = FindingRow(
                verdict=finding.verdict.value,
                title=finding.title,
                measured=measured_words(finding, units) or finding.verdict.value,
                limit=limit_words(finding, units),
            )
            row.bind(on_release=lambda _row, finding=finding: self.show_finding(finding))
            box.add_widget(row)

    def _findings_shown(self) -> int:
        grid = self.ids.answers
        lines = -(-len(grid.children) // (grid.cols or 1))
        return FINDINGS_BESIDE.get(lines, 0) if self.wide else FINDINGS_BELOW

    def show_finding(self, finding: Finding) -> None:
        """Move the map to a finding, and ask the question that settles it."""
        place = next((it for it in finding.places if it.s_m is not None), None)
        if place is not None and place.chainage_m is not None:
            self.ids.map.focus(float(place.chainage_m), float(place.s_m or 0))
        question = question_for(finding, self.view)
        if question is not None:
            self.picked = question.key
            self._show()

    # --- the map ----------------------------------------------------------------------------

    def bolt_touched(self, bolt: Bolt) -> None:
        """Ask what is to be said of a bolt."""
        self.ids.map.selected = (bolt.x_m, bolt.s_m)
        BoltSheet(place_of(self.work, bolt), self.asker, self.keep).open()

    def bolts_touched(self, bolts: tuple[Bolt, ...]) -> None:
        """Ask which of several bolts was meant."""
        ChooserSheet(bolts, self.bolt_touched).open()

    def ground_touched(self, x_m: float, s_m: float) -> None:
        """Ask what is to be said of a place where no bolt is."""
        place = (Decimal(f"{x_m:.2f}"), Decimal(f"{s_m:.2f}"))
        GroundSheet(self.work, place, self.asker, self.keep).open()

    def mark_one(self) -> None:
        """Say how one thing is marked: by touching it on the map."""
        self.picked = ""
        self.hint = _("Touch the bolt on the map; touch between bolts for mesh or an extra bolt.")

    def more(self) -> None:
        """Offer what is asked seldom: rows, profile, notes, another question."""
        MoreSheet(self.work, self.asker, self.keep).open()
