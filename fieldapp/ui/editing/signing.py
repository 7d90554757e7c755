"""Signing a new revision: from which day it is to be in force, then the engineer's sign code."""

from collections.abc import Callable
from datetime import datetime
from functools import partial
from typing import Any
from zoneinfo import ZoneInfo

from fieldapp.report.words.findings import day
from fieldapp.ui.standard_edit_work import EditPage, day_in, days_offered
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.asking import KeySheet
from fieldapp.ui.widgets.pad_panel import PadPanel
from fieldapp.work.standard_editing import sign_revision
from schemas.trouble import Trouble

Told = Callable[[Trouble], None]

MOST_DAYS = 730


class Signing:
    """Asks for day and code, each naming what is signed; `run` signs beside the screen."""

    def __init__(self, shell: Any, run: Callable[[Callable[[], Any], Told], None]) -> None:
        self._shell, self._run = shell, run

    def ask(self, page: EditPage) -> None:
        """Ask from when it is to be in force."""
        zone = ZoneInfo(self._shell.site.settings.zone)
        sheet = KeySheet(_("In force from when?"), page.said)
        at_once = partial(self._ask_code, page, None, _("at once"))
        sheet.offer(_("At once"), at_once, role="main")
        for since in days_offered(self._shell.now(), zone):
            sheet.offer(day(since, zone), partial(self._ask_code_from, page, since))
        sheet.offer(_("Another day"), partial(self._ask_another, page))
        sheet.open()

    def _ask_another(self, page: EditPage) -> None:
        """Ask in how many days: whoever signs reads the day itself beside the code."""
        zone = ZoneInfo(self._shell.site.settings.zone)
        PadPanel(
            lambda typed: self._ask_code_from(page, day_in(int(typed), self._shell.now(), zone)),
            question=_("In how many days is it to be in force?"),
            limit=_("1 is tomorrow, from its first minute"),
            unit=_("days"),
            decimals=0,
            smallest="1",
            largest=str(MOST_DAYS),
        ).open()

    def _ask_code_from(self, page: EditPage, since: datetime) -> None:
        zone = ZoneInfo(self._shell.site.settings.zone)
        self._ask_code(page, since, _("from {day}").format(day=day(since, zone)))

    def _ask_code(self, page: EditPage, since: datetime | None, when: str) -> None:
        question = _("Your sign code: it signs {revision}, in force {when}")
        document = page.work.document
        revision = _("{code} revision {revision}").format(
            code=document["code"], revision=document["revision"]
        )
        self._shell.ask_code(
            question.format(revision=revision, when=when), partial(self._sign, page, since, when)
        )

    def _sign(self, page: EditPage, since: datetime | None, when: str, code: str) -> None:
        shell = self._shell
        once_more = partial(self._ask_code, page, since, when)
        self._run(
            lambda: sign_revision(shell.site, page.work, since, shell.session, code),
            lambda trouble: shell.say_of_code(trouble, once_more),
        )
