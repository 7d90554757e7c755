"""A deviation on its way: for which place, why, then what is granted, held and signed.

The geotechnical engineer grants it with their own sign code, before the round is signed.
"""

from collections.abc import Callable
from functools import partial
from typing import Any
from zoneinfo import ZoneInfo

from kivy.properties import StringProperty

from fieldapp.report.words.findings import verdict_words, when
from fieldapp.report.words.lengths import Units, finding_in, limit_words, measured_words
from fieldapp.ui.review_work import deviation_at, places_to_grant
from fieldapp.ui.round_work import Judged
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.asking import KeySheet
from fieldapp.ui.widgets.caution_line import CautionLine
from fieldapp.ui.widgets.hold_key import HoldKey
from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.sheet import Sheet
from fieldapp.ui.widgets.words import Words
from fieldapp.work.deviations import REASONS, grant
from schemas.bodies.deviation import Deviation
from schemas.findings import Finding, Place

__all__ = ["CautionLine", "GrantPanel", "HoldKey", "Key", "Words"]


class Granting:
    """One deviation from one finding. Nothing is granted before the sign code is given."""

    def __init__(
        self, shell: Any, judged: Judged, finding: Finding, then: Callable[[], None]
    ) -> None:
        self._shell = shell
        self._judged = judged
        self._finding = finding_in(finding, shell.site.settings.units)
        self._then = then

    def ask(self) -> None:
        """Ask for which place, where there are several."""
        places = places_to_grant(self._finding)
        if len(places) == 1:
            self._ask_reason(places[0])
            return
        sheet = KeySheet(_("Deviation: for which place?"), _("One place at a time."))
        for place in places:
            sheet.offer(_(place.words), partial(self._ask_reason, place))
        sheet.open()

    def _ask_reason(self, place: Place) -> None:
        sheet = KeySheet(
            _("Deviation from {title}: why?").format(title=_(self._finding.title).lower()),
            _("{place}. It ends with the round, at the latest in 24 h.").format(
                place=_(place.words)
            ),
        )
        for reason in REASONS:
            sheet.offer(_(reason), partial(self._put_together, place, reason))
        sheet.open()

    def _put_together(self, place: Place, reason: str) -> None:
        shell = self._shell
        job = partial(deviation_at, shell.site, self._judged, self._finding, place, reason)
        shell.do(job, then=partial(self._show, place))

    def _show(self, place: Place, deviation: Deviation) -> None:
        panel = GrantPanel(partial(self._ask_code, deviation))
        settings = self._shell.site.settings
        panel.tell(self._finding, place, settings.units)
        ends = when(deviation.ends_at, ZoneInfo(settings.zone))
        panel.ends = _("with the round, at the latest {time}").format(time=ends)
        panel.reason = _(deviation.reason)
        panel.open()

    def _ask_code(self, deviation: Deviation) -> None:
        name = self._shell.session.name if self._shell.session else ""
        question = _("Grant the deviation: sign code of {name}").format(name=name)
        self._shell.ask_code(question, partial(self._grant, deviation))

    def _grant(self, deviation: Deviation, code: str) -> None:
        shell, again = self._shell, partial(self._ask_code, deviation)
        if shell.session is None:
            return
        shell.do(
            partial(grant, shell.site, deviation, shell.session, code),
            then=lambda _granted: self._then(),
            on_trouble=lambda trouble: shell.say_of_code(trouble, again),
        )


class GrantPanel(Sheet):
    """Says what is granted: from which finding, where, until when and why. Held, then signed."""

    finding = StringProperty()
    where = StringProperty()
    ends = StringProperty()
    reason = StringProperty()

    def __init__(self, then: Callable[[], None]) -> None:
        super().__init__(title=_("Grant this deviation?"))
        self._then = then

    def tell(self, finding: Finding, place: Place, units: Units) -> None:
        """Show from what, and where."""
        said = [f"{_(finding.title)}: {_(verdict_words(finding))}"]
        if finding.measured:
            figures = measured_words(finding, units), limit_words(finding, units)
            said += [_(words) for words in figures if words]
        self.finding = ", ".join([*said, finding.because])
        self.where = _(place.words)

    def grant(self) -> None:
        """Go away, and ask for the sign code."""
        self.close()
        self._then()
