"""Restricting entry: to whom, until when, from where; the last answer states it."""

from datetime import datetime, timedelta
from decimal import Decimal
from functools import partial
from typing import Any

from fieldapp.ui.entry_words import EntryPage
from fieldapp.ui.figures import line, metres
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.asking import KeySheet
from fieldapp.work.notices import restrict
from fieldapp.work.share.shifts import shift_ends

TO = (
    _("inspection only"),
    _("barring down only"),
    _("bolting crew only"),
    _("charging crew only"),
    _("machines, nobody on foot"),
    _("survey only"),
)
HOURS = (1, 2, 4)
BEGINNING_M = Decimal(0)


class Restricting:
    """One restriction on its way. A permission ends by itself, in *barricaded*."""

    def __init__(self, shell: Any, heading_id: str, page: EntryPage) -> None:
        self._shell = shell
        self._heading_id = heading_id
        self._page = page

    def ask(self) -> None:
        """Ask to whom."""
        sheet = KeySheet(
            _("Restrict entry to {heading}: to what?").format(heading=self._page.name)
        )
        for to in TO:
            sheet.offer(to, partial(self._ask_until, to))
        sheet.open()

    def _ask_until(self, to: str) -> None:
        shell = self._shell
        now = shell.now()
        sheet = KeySheet(
            _("{who}: until when?").format(who=to.capitalize()),
            _("When the time is over the place counts as barricaded."),
        )
        for hours in HOURS:
            until = now + timedelta(hours=hours)
            label = _("{hours} h").format(hours=hours)
            sheet.offer(label, partial(self._ask_from, to, until), self._clock(until))
        end = shift_ends(shell.site.settings, now)
        sheet.offer(_("End of shift"), partial(self._ask_from, to, end), self._clock(end))
        sheet.offer(_("Until lifted"), partial(self._ask_from, to, None), _("by a person"))
        sheet.open()

    def _ask_from(self, to: str, until: datetime | None) -> None:
        line_m = self._page.state.line_m
        sheet = KeySheet(_("{who}: from where inbye?").format(who=to.capitalize()))
        say = partial(self._state, to, until)
        sheet.offer(_("The entry line"), partial(say, line_m), self._line(line_m))
        sheet.offer(_("The whole heading"), partial(say, BEGINNING_M))
        sheet.offer(_("Another place"), partial(self._ask_chainage, to, until), _("by chainage"))
        sheet.open()

    def _ask_chainage(self, to: str, until: datetime | None) -> None:
        self._shell.ask_number(
            _("Restricted from which chainage inbye?"),
            lambda typed: self._state(to, until, Decimal(typed)),
            unit="m",
            limit=_("the face is at {face}").format(face=self._metres(self._page.state.face_m)),
            largest=str(self._page.state.face_m),
        )

    def _state(self, to: str, until: datetime | None, from_m: Decimal) -> None:
        shell = self._shell
        job = partial(restrict, shell.site, self._heading_id, from_m, shell.session)
        shell.do(lambda: job(to=to, until=until), then=lambda _known: shell.refresh())

    def _metres(self, value_m: Decimal) -> str:
        return metres(value_m, self._shell.site.settings.units)

    def _line(self, line_m: Decimal) -> str:
        return line(line_m, self._shell.site.settings.units)

    def _clock(self, at: datetime) -> str:
        return str(self._shell.clock_words(at))
