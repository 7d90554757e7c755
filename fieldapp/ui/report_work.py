"""Writing a report beside the screen, and choosing which."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from fieldapp.report.pens.pdf import PAPERS
from fieldapp.report.printed import SHEETS
from fieldapp.report.reported import Wanted, file_name, report_file
from fieldapp.ui.panels.heading_panel import HeadingPanel
from fieldapp.ui.report_sheet import ReportSheet
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.asking import KeySheet
from fieldapp.work.headings import headings
from fieldapp.work.reporting.facts import AnyFacts
from fieldapp.work.reporting.heading import heading_report
from fieldapp.work.reporting.month import month_report
from fieldapp.work.reporting.months import month_of
from fieldapp.work.reporting.rehab import rehab_report
from fieldapp.work.reporting.then import Reported, of_tablet
from fieldapp.work.site import Site
from sync.durable import replace_file
from sync.outcome import Stopped, Watcher

Gather = Callable[[Reported, Watcher], AnyFacts]


@dataclass(frozen=True)
class HeadingLine:
    """A heading to choose."""

    id: str
    name: str
    entry: str
    """What stands below its name: its class."""


def ask_report(shell: Any) -> None:
    """Ask which report is written."""
    note = _("It becomes a PDF in the folder sheets of this tablet.")
    sheet = KeySheet(_("Which report?"), note)
    sheet.offer(_("Rehab list"), partial(_begin, shell, _rehab))
    sheet.offer(_("This month"), partial(_begin, shell, _this_month), _("every heading"))
    sheet.offer(_("One heading"), partial(_ask_heading, shell), _("its history"))
    sheet.open()


def written_report(site: Site, gather: Gather, watch: Watcher) -> Path | None:
    """Write a report, whole or not at all, and say where; None where somebody stopped it."""
    on = of_tablet(site)
    try:
        facts = gather(on, watch)
        content = report_file(on, facts, Wanted(paper=PAPERS[site.settings.paper]), watch)
    except Stopped:
        return None
    folder = site.folder / SHEETS
    folder.mkdir(exist_ok=True)
    path = folder / file_name(facts, "pdf")
    replace_file(path, content)
    return path


def _begin(shell: Any, gather: Gather) -> None:
    ReportSheet(shell, partial(written_report, shell.site, gather)).open()


def _ask_heading(shell: Any) -> None:
    lines = [
        HeadingLine(it.id, it.body.name, it.body.support_class) for it in headings(shell.site)
    ]
    title = _("Report: which heading?")
    HeadingPanel(title, lines, lambda line: _begin(shell, partial(_heading, line.id))).open()


def _rehab(on: Reported, watch: Watcher) -> AnyFacts:
    return rehab_report(on, None, watch)


def _this_month(on: Reported, watch: Watcher) -> AnyFacts:
    month = month_of(on.at, ZoneInfo(on.sight.settings.zone))
    return month_report(on, month, (), watch)


def _heading(heading_id: str, on: Reported, watch: Watcher) -> AnyFacts:
    return heading_report(on, heading_id, watch)
