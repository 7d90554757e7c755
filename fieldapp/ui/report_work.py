"""Writing a report beside the screen, and choosing which, and in which form."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import timedelta
from functools import partial
from pathlib import Path
from typing import Any, Final
from zoneinfo import ZoneInfo

from fieldapp.report.pens.pdf import PAPERS
from fieldapp.report.printed import SHEETS
from fieldapp.report.reported import (
    Form,
    Wanted,
    file_name,
    forms_of,
    report_file,
    round_file,
)
from fieldapp.report.words.findings import day
from fieldapp.ui.panels.heading_panel import HeadingPanel
from fieldapp.ui.report_sheet import ReportSheet
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.asking import KeySheet
from fieldapp.work.headings import headings
from fieldapp.work.reporting.facts import AnyFacts
from fieldapp.work.reporting.heading import heading_report
from fieldapp.work.reporting.month import month_report
from fieldapp.work.reporting.months import last_second_of, month_of, start_of
from fieldapp.work.reporting.rehab import rehab_report
from fieldapp.work.reporting.then import Reported, of_tablet
from fieldapp.work.rounds import rounds
from fieldapp.work.site import Site
from sync.durable import replace_file
from sync.outcome import Stopped, Watcher

Gather = Callable[[Reported, Watcher], AnyFacts]

FORMS: Final[dict[Form, tuple[str, str]]] = {
    "pdf": (_("PDF"), _("for paper")),
    "xlsx": (_("Spreadsheet"), _("figures to go on with")),
    "dxf": (_("Plan drawing"), _("DXF, in the mine's grid")),
    "json": (_("JSON"), _("for another program")),
}


@dataclass(frozen=True)
class Line:
    """A heading or a round to choose."""

    id: str
    name: str
    entry: str
    """What stands below its name: its class, or when it was recorded."""


@dataclass(frozen=True)
class Made:
    """A report as it goes into a file."""

    name: str
    content: bytes


Make = Callable[[Reported, Wanted, Watcher], Made]


def ask_report(shell: Any) -> None:
    """Ask which report is written, and then in which form."""
    note = _("It is written into the folder sheets of this tablet.")
    sheet = KeySheet(_("Which report?"), note)
    every = _("every heading")
    sheet.offer(_("Rehab list"), partial(_ask_form, shell, "rehab", _made_of(_rehab)))
    sheet.offer(_("This month"), partial(_ask_form, shell, "month", _made_of(_this_month)), every)
    sheet.offer(_("Last month"), partial(_ask_form, shell, "month", _made_of(_last_month)), every)
    sheet.offer(_("One heading"), partial(_ask_heading, shell, _ask_history), _("its history"))
    sheet.offer(_("One round"), partial(_ask_heading, shell, _ask_round), _("its sheet"))
    sheet.open()


def written_report(site: Site, make: Make, form: Form, watch: Watcher) -> Path | None:
    """Write a report, whole or not at all, and say where; None where somebody stopped it."""
    wanted = Wanted(form, PAPERS[site.settings.paper])
    try:
        made = make(of_tablet(site), wanted, watch)
    except Stopped:
        return None
    folder = site.folder / SHEETS
    folder.mkdir(exist_ok=True)
    path = folder / made.name
    replace_file(path, made.content)
    return path


def _ask_form(shell: Any, kind: str, make: Make) -> None:
    sheet = KeySheet(_("In which form?"), "")
    for form in (it for it in FORMS if it in forms_of(kind)):
        title, second = FORMS[form]
        sheet.offer(title, partial(_begin, shell, make, form), second)
    sheet.open()


def _begin(shell: Any, make: Make, form: Form) -> None:
    ReportSheet(shell, partial(written_report, shell.site, make, form)).open()


def _ask_heading(shell: Any, then: Callable[[Any, str], None]) -> None:
    lines = [Line(it.id, it.body.name, it.body.support_class) for it in headings(shell.site)]
    title = _("Report: which heading?")
    HeadingPanel(title, lines, lambda line: then(shell, line.id)).open()


def _ask_history(shell: Any, heading_id: str) -> None:
    _ask_form(shell, "heading", _made_of(partial(_heading, heading_id)))


def _ask_round(shell: Any, heading_id: str) -> None:
    zone = ZoneInfo(shell.site.settings.zone)
    lines = [
        Line(it.id, _("Round {n}").format(n=it.body.number), day(it.body.started_at, zone))
        for it in reversed(rounds(shell.site, heading_id))
    ]
    title = _("Report: which round?") if lines else _("No round is recorded there yet.")
    HeadingPanel(title, lines, lambda line: _ask_form(shell, "round", _of_round(line.id))).open()


def _made_of(gather: Gather) -> Make:
    def make(on: Reported, wanted: Wanted, watch: Watcher) -> Made:
        facts = gather(on, watch)
        return Made(file_name(facts, wanted.form), report_file(on, facts, wanted, watch))

    return make


def _of_round(round_id: str) -> Make:
    def make(on: Reported, wanted: Wanted, watch: Watcher) -> Made:
        found = round_file(on, round_id, wanted, watch)
        return Made(found.name, found.content)

    return make


def _rehab(on: Reported, watch: Watcher) -> AnyFacts:
    return rehab_report(on, None, watch)


def _this_month(on: Reported, watch: Watcher) -> AnyFacts:
    return month_report(on, month_of(on.at, _zone(on)), (), watch)


def _last_month(on: Reported, watch: Watcher) -> AnyFacts:
    """Gather the month before as it stood in its last second, whatever came later."""
    zone = _zone(on)
    ended = start_of(month_of(on.at, zone), zone) - timedelta(seconds=1)
    month = month_of(ended, zone)
    return month_report(on.as_at(last_second_of(month, zone)), month, (), watch)


def _zone(on: Reported) -> ZoneInfo:
    return ZoneInfo(on.sight.settings.zone)


def _heading(heading_id: str, on: Reported, watch: Watcher) -> AnyFacts:
    return heading_report(on, heading_id, watch)
