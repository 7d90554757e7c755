"""Review and sign: the findings with their reasons, what was not seen, and the decision."""

from datetime import datetime
from functools import partial
from typing import Any
from zoneinfo import ZoneInfo

from kivy.properties import BooleanProperty, ListProperty, ObjectProperty, StringProperty

from fieldapp.ui.paired import PairedScreen
from fieldapp.ui.panels.granting import Granting
from fieldapp.ui.review_work import (
    Reviewed,
    headline_words,
    jobs_words,
    may_deviate,
    own_work,
    reviewed,
    unseen_words,
    why_not,
    work_words,
)
from fieldapp.ui.round_work import Judged, engineers_words, round_words
from fieldapp.ui.shell import Shell
from fieldapp.ui.signed_sheet import SignedSheet
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.asking import KeySheet
from fieldapp.ui.widgets.caution_line import CautionLine
from fieldapp.ui.widgets.header import Header
from fieldapp.ui.widgets.hold_key import HoldKey
from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.key_row import KeyRow
from fieldapp.ui.widgets.mark import Mark
from fieldapp.ui.widgets.paged_list import PagedList
from fieldapp.ui.widgets.reason_row import ReasonRow
from fieldapp.ui.widgets.words import Words
from fieldapp.work.sign import STATES, ClockIsBehind, Signed, Signing, says, sign_round
from schemas.bodies.sign_off import Decision
from schemas.findings import Finding, Verdict
from schemas.trouble import Trouble

__all__ = [
    "CautionLine",
    "Header",
    "HoldKey",
    "Key",
    "KeyRow",
    "Mark",
    "PagedList",
    "ReviewScreen",
    "Words",
]


class ReviewScreen(PairedScreen):
    """Shows what a round comes to, and takes the decision of the one who signs."""

    shell: Shell = ObjectProperty(None, allownone=True)
    judged: Judged | None = ObjectProperty(None, allownone=True)
    wide = BooleanProperty(True)
    heading_id = StringProperty("")
    way_out = StringProperty(_("Round"))
    title = StringProperty("")
    subtitle = StringProperty("")
    saved = StringProperty("")
    entry_line = StringProperty("")
    held = StringProperty("")
    """What holds entry back whatever is signed; empty where nothing does."""
    verdict = StringProperty("")
    headline = StringProperty("")
    findings = ListProperty()
    make_row: Any = ObjectProperty(None, allownone=True)
    fix_title = StringProperty("")
    fix_ways = ListProperty()
    unseen_title = StringProperty("")
    unseen_words = StringProperty("")
    in_doubt = StringProperty("")
    beyond = StringProperty("")
    """Why somebody went beyond the last row; empty where nobody did."""
    work_figures = StringProperty("")
    says = StringProperty("")
    states = StringProperty(STATES)
    """What the signer states; where they installed it, that they can't sign."""
    caution = StringProperty(
        _("Stay under supported ground. This app records and compares; it does not make it safe.")
    )
    may_sign = BooleanProperty(False)
    may_accept = BooleanProperty(False)
    is_signed = BooleanProperty(False)
    accept_title = StringProperty(_("Accept"))
    accept_second = StringProperty("")
    send_back_title = StringProperty(_("Send back"))
    send_back_second = StringProperty("")
    barricade_title = StringProperty(_("Barricade"))
    barricade_second = StringProperty("")
    no_entry_title = StringProperty(_("No entry"))

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self.make_row = self._row

    def opened(self, heading_id: str) -> None:
        """Show what the round of a heading comes to now."""
        self.heading_id = heading_id
        self.may_sign, self.may_accept, self.is_signed = False, False, False
        self.refreshed()

    def refreshed(self) -> None:
        """Judge again: shotcrete may have cured, a deviation may have ended."""
        if self.is_signed:
            return  # the draft has become a record: what lies over this screen leads on
        shell = self.shell
        shell.do(partial(reviewed, shell.site, self.heading_id, shell.now()), then=self._take)

    def to_round(self) -> None:
        """Go back to the round."""
        self.shell.open("round", heading_id=self.heading_id)

    def no_entry(self) -> None:
        """State no entry; the next touch confirms."""
        self.shell.no_entry(heading_id=self.heading_id)

    # --- the decision -----------------------------------------------------------------------

    def sign(self, decision: Decision) -> None:
        """Ask for the sign code; its last digit signs, where it is known how many there are."""
        question = _("{decision}: your sign code").format(decision=decision.capitalize())
        self.shell.ask_code(question, partial(self._sign, decision), self.shell.code_digits)

    def _sign(self, decision: Decision, code: str, *, clock_confirmed: bool = False) -> None:
        shell, judged = self.shell, self.judged
        if judged is None or shell.session is None:
            return
        signing = Signing(judged.work, decision, shell.now(), clock_confirmed)
        shell.do(
            partial(sign_round, shell.site, shell.session, signing, code),
            then=self._signed,
            on_trouble=partial(self._not_signed, decision, code),
        )

    def _signed(self, signed: Signed) -> None:
        self.may_sign, self.is_signed = False, True
        SignedSheet(self.shell, self.heading_id, signed).open()

    def _not_signed(self, decision: Decision, code: str, trouble: Trouble) -> None:
        if isinstance(trouble, ClockIsBehind):
            confirmed = partial(self._sign, decision, code, clock_confirmed=True)
            self.shell.say(trouble, again=confirmed)
        else:
            self.shell.say_of_code(trouble, partial(self.sign, decision))

    # --- a finding --------------------------------------------------------------------------

    def finding_touched(self, finding: Finding) -> None:
        """Go to a finding on the map; an engineer may grant a deviation from it."""
        if not may_deviate(finding, self.shell.session):
            self._show_on_map(finding)
            return
        said = "; ".join(it.words for it in finding.places[:3])
        figures = engineers_words(finding)
        sheet = KeySheet(finding.title, f"{figures}: {said}" if figures else said)
        sheet.offer(_("Show on the map"), partial(self._show_on_map, finding))
        sheet.offer(_("Grant a deviation"), partial(self._grant, finding), _("ends in 24 h"))
        sheet.open()

    def _grant(self, finding: Finding) -> None:
        if self.judged is not None:
            Granting(self.shell, self.judged, finding, self.refreshed).ask()

    def _show_on_map(self, finding: Finding) -> None:
        self.shell.open("round", heading_id=self.heading_id, finding=finding)

    # --- showing ----------------------------------------------------------------------------

    def _take(self, found: Reviewed | None) -> None:
        if found is None:
            self.shell.to_board()
            return
        if found.judged.work.seen.heading == self.heading_id:
            self._show(found)

    def _show(self, found: Reviewed) -> None:
        self.judged, units = found.judged, self.shell.site.settings.units
        work, assessment = found.judged.work, found.judged.assessment
        self.title = work.heading.name
        self.subtitle = round_words(work, units)
        self.saved = self._saved(assessment.as_at)
        self.entry_line, self.held = found.entry_words, found.held
        self.verdict = assessment.verdict.value
        self.headline = headline_words(assessment)
        grave = [it for it in assessment.findings if it.verdict is not Verdict.ACCEPT]
        self.findings = grave or list(assessment.findings)
        self.fix_title, self.fix_ways = jobs_words(
            assessment, units, ZoneInfo(self.shell.site.settings.zone)
        )
        self.unseen_title, self.unseen_words = unseen_words(assessment)
        self.in_doubt = found.in_doubt
        self.beyond, self.work_figures = work_words(work)
        said = says(work, assessment)
        self.says = said[:1].upper() + said[1:]
        own = own_work(found.judged, self.shell.session)
        self.states = own or STATES
        self.may_sign = not own
        self.may_accept = assessment.may_be_accepted
        self.accept_second = found.lines["accepted"] if self.may_accept else why_not(assessment)
        self.send_back_second = found.lines["sent back"]
        self.barricade_second = found.lines["barricaded"]

    def _saved(self, at: datetime) -> str:
        return _("judged {time}").format(time=self.shell.clock_words(at))

    def _row(self, finding: Finding) -> ReasonRow:
        row = ReasonRow()
        row.tell(finding, self.shell.site.settings.units)
        row.bind(on_release=lambda *_args: self.finding_touched(finding))
        return row
