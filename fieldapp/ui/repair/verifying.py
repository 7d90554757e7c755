"""Looking at what others repaired: verified with a sign code, or refused with the reason."""

from collections.abc import Callable
from functools import partial

from fieldapp.ui.repair.repair_step import RepairStep
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.asking import KeySheet
from fieldapp.work.rehab.revisions import rehab_known
from fieldapp.work.rehab.verified import Evidence, evidence_of, refuse, reopen, verify
from fieldapp.work.rehab.words import REFUSED, TOO_SHORT
from fieldapp.work.site import Site


class Verifying(RepairStep):
    """Asks whoever looks at a repair. What it lacks is asked for before the sign code is."""

    def ask(self) -> None:
        """Look at what there is to verify it by, then ask for what is not there."""
        self._look(None)

    def ask_why_not(self) -> None:
        """Ask why it is refused."""
        self._because(_("Refuse it: why?"), refuse)

    def ask_why_reopened(self) -> None:
        """Ask why what was verified does not hold."""
        self._because(_("It does not hold: why?"), reopen)

    def _look(self, laps: int | None) -> None:
        look = partial(_evidence, self._shell.site, self._rehab_id, laps)
        self._shell.do(look, then=partial(self._ask_what_is_lacking, laps))

    def _ask_what_is_lacking(self, laps: int | None, evidence: Evidence) -> None:
        if not evidence.has_photo:
            self._ask_photo(laps, evidence)
        elif evidence.laps is None and evidence.laps_needed is not None:
            self._laps_sheet(self._look).open()
        elif evidence.reason:
            self._offer_to_refuse(evidence)
        else:
            self._ask_whether_good(laps, evidence)

    def _ask_photo(self, laps: int | None, evidence: Evidence) -> None:
        because = evidence.no_photo_because
        told = _("Whoever did it said: {because}.").format(because=_(because)) if because else ""
        told = _("What is kept is from before the work was begun.") if evidence.has_older else told
        sheet = KeySheet(_("No photo shows what was done: take one before you verify it"), told)
        again = partial(self._photos, partial(self._look, laps))
        sheet.offer(_("Take a photo"), again, _("or choose a file"), role="main")
        sheet.offer(_("Refuse"), self.ask_why_not)
        sheet.open()

    def _offer_to_refuse(self, evidence: Evidence) -> None:
        title = _("New mesh laps sound old mesh by {n}, not by {needed} openings")
        sheet = KeySheet(
            title.format(n=evidence.laps, needed=evidence.laps_needed),
            _("So it can't be verified."),
        )
        shell, rehab_id = self._shell, self._rehab_id
        step = partial(refuse, shell.site, rehab_id, shell.session, because=TOO_SHORT)
        sheet.offer(_("Refuse"), partial(self._do, step), _(TOO_SHORT), role="main")
        sheet.open()

    def _ask_whether_good(self, laps: int | None, evidence: Evidence) -> None:
        note, because = (
            _("Nobody verifies what they did themselves."),
            evidence.older_photo_because,
        )
        if because:
            words = _("Its photo is dated before the work. Whoever did it said: {because}.")
            note = words.format(because=_(because))
        sheet = KeySheet(_("Verify it: you looked at all of it, from supported ground"), note)
        sheet.offer(_("Good, and the barrier is down"), partial(self._ask_code, laps))
        sheet.open()

    def _ask_code(self, laps: int | None) -> None:
        shell, verified = self._shell, partial(self._verified, laps)
        shell.ask_code(_("Your sign code verifies it"), verified, shell.code_digits)

    def _verified(self, laps: int | None, code: str) -> None:
        shell, by = self._shell, self._shell.session
        step = partial(verify, shell.site, self._rehab_id, by, code, barrier_down=True)
        shell.state(
            partial(step, lap_openings=laps),
            on_trouble=lambda it: shell.say_of_code(it, partial(self._ask_code, laps)),
        )

    def _because(self, question: str, act: Callable[..., object]) -> None:
        shell, rehab_id = self._shell, self._rehab_id
        sheet = KeySheet(question, self._line.title)
        for because in REFUSED:
            step = partial(act, shell.site, rehab_id, shell.session, because=because)
            sheet.offer(_(because), partial(self._do, step))
        sheet.open()


def _evidence(site: Site, rehab_id: str, laps: int | None) -> Evidence:
    return evidence_of(site, rehab_known(site, rehab_id), laps)
