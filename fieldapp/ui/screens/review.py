"""Review and sign: the findings with their reasons, what was not seen, and the decision."""

from dataclasses import dataclass
from datetime import datetime

from kivy.properties import BooleanProperty, ObjectProperty, StringProperty

from fieldapp.ui.paired import PairedScreen
from fieldapp.ui.round_work import Judged, OpenedRound, judged_now, opened_round, round_words
from fieldapp.ui.shell import Shell
from fieldapp.ui.signed_sheet import SignedSheet
from fieldapp.ui.translate import _
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

CODE_DIGITS = 4


@dataclass(frozen=True)
class Opened:
    """A round and what it comes to, from the worker."""

    opened: OpenedRound
    judged: Judged


class ReviewScreen(PairedScreen):
    """Shows what a round comes to, and takes the decision of the one who signs."""

    shell: Shell = ObjectProperty(None, allownone=True)
    judged: Judged = ObjectProperty(None, allownone=True)
    wide = BooleanProperty(True)
    heading_id = StringProperty("")
    way_out = StringProperty(_("Round"))
    title = StringProperty("")
    subtitle = StringProperty("")
    saved = StringProperty("")
    entry_line = StringProperty("")
    badge = StringProperty("")
    verdict = StringProperty("")
    headline = StringProperty("")
    nothing_found = StringProperty(_("Every finding is accepted."))
    fix_title = StringProperty("")
    fix_words = StringProperty("")
    says = StringProperty("")
    states = StringProperty(STATES)
    caution = StringProperty(
        _("Stay under supported ground. This app records and compares; it does not make it safe.")
    )
    may_accept = BooleanProperty(False)
    accept_title = StringProperty(_("Accept"))
    accept_second = StringProperty("")
    send_back_title = StringProperty(_("Send back"))
    barricade_title = StringProperty(_("Barricade"))
    no_entry_title = StringProperty(_("No entry"))
    hold_words = StringProperty(_("hold"))

    def opened(self, heading_id: str) -> None:
        """Show what the round of a heading comes to now."""
        self.heading_id = heading_id
        self.may_accept = False
        shell, at = self.shell, self.shell.now()
        self.ids.findings.make_row = self._row

        def job() -> Opened:
            opened = opened_round(shell.site, heading_id, shell.session)
            return Opened(opened, judged_now(opened.work, at))

        shell.do(job, then=self._take)

    def to_round(self) -> None:
        """Go back to the round."""
        self.shell.open("round", heading_id=self.heading_id)

    def no_entry(self) -> None:
        """State no entry; the next touch confirms."""
        self.shell.no_entry(heading_id=self.heading_id)

    def sign(self, decision: Decision) -> None:
        """Ask for the sign code, then sign."""
        if self.shell.session is None:
            self.shell.open("sign_in")
            return
        question = _("{decision}: your sign code").format(decision=decision.capitalize())
        digits = self.shell.code_digits
        self.shell.ask_code(question, lambda code: self._sign(decision, code), digits)

    def _sign(self, decision: Decision, code: str, *, clock_confirmed: bool = False) -> None:
        shell, at, session = self.shell, self.shell.now(), self.shell.session
        if session is None:
            return
        signing = Signing(self.judged.work, decision, at, clock_confirmed)

        def confirm() -> None:
            self._sign(decision, code, clock_confirmed=True)

        def on_trouble(trouble: Trouble) -> None:
            shell.say(trouble, again=confirm if isinstance(trouble, ClockIsBehind) else None)

        shell.do(
            lambda: sign_round(shell.site, session, signing, code),
            then=lambda signed: self._signed(signed, at),
            on_trouble=on_trouble,
        )

    def _signed(self, signed: Signed, at: datetime) -> None:
        SignedSheet(self.shell, self.heading_id, signed, at).open()

    def _take(self, both: Opened) -> None:
        work, assessment = both.judged.work, both.judged.assessment
        self.judged = both.judged
        self.title = work.heading.name
        self.subtitle = round_words(work)
        self.badge = self.shell.badge
        self.entry_line = both.opened.entry_words
        self.verdict = assessment.verdict.value
        self.headline = assessment.headline.capitalize()
        self.ids.findings.items = [
            it for it in assessment.findings if it.verdict is not Verdict.ACCEPT
        ] or list(assessment.findings)
        self.says = says(work, assessment).capitalize()
        self._show_fixes(assessment.fix_list, assessment.findings)
        self.may_accept = assessment.may_be_accepted
        self.accept_second = _("hold") if self.may_accept else self._why_not()

    def _why_not(self) -> str:
        blocking = [it for it in self.judged.assessment.findings if not it.lets_sign]
        return f"{blocking[0].title}: {blocking[0].verdict}"

    def _show_fixes(self, fix_list: tuple[str, ...], findings: tuple[Finding, ...]) -> None:
        unseen = [it.title for it in findings if it.verdict is Verdict.NOT_LOOKED_AT]
        if fix_list:
            self.fix_title = _("To do, {n}").format(n=len(fix_list))
            self.fix_words = "\n".join(f"• {job}" for job in fix_list)
        elif unseen:
            self.fix_title = _("Not looked at, {n}").format(n=len(unseen))
            self.fix_words = ", ".join(unseen)
        else:
            self.fix_title = _("Nothing to fix")
            self.fix_words = ""

    def _row(self, finding: Finding) -> ReasonRow:
        row = ReasonRow()
        row.tell(finding)
        row.bind(on_release=lambda *_args: self._show_on_map(finding))
        return row

    def _show_on_map(self, finding: Finding) -> None:
        self.shell.open("round", heading_id=self.heading_id, finding=finding)
