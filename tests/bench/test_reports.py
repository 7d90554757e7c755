"""A month of 40 headings, from the records to its printed pages."""

import tempfile
import time
from pathlib import Path
from zoneinfo import ZoneInfo

from fieldapp.report.reported import Wanted, report_file
from fieldapp.start import open_site
from fieldapp.work.reporting.month import month_report
from fieldapp.work.reporting.months import last_second_of
from fieldapp.work.reporting.then import of_tablet
from tests.bench.many_entries import AT_THE_END, many_entries
from tests.bench.ratio import Ratio

HEADINGS = 40
ENTRIES = 10_000
MONTH = "2031-05"
BUDGET_S = 60.0


def ratios() -> list[Ratio]:
    """Report a month in which every heading advanced twice a day."""
    with tempfile.TemporaryDirectory() as folder:
        home = many_entries(Path(folder) / "home", ENTRIES, HEADINGS)
        site = open_site(home, now=lambda: AT_THE_END)
        with site.store:
            on = of_tablet(site).as_at(last_second_of(MONTH, ZoneInfo(site.settings.zone)))
            began_s = time.process_time()
            facts = month_report(on, MONTH)
            gathered_s = time.process_time()
            report_file(on, facts, Wanted())
            printed_s = time.process_time()
    rounds = sum(len(it.rounds) for it in facts.headings)
    what = f"a month of {len(facts.headings)} headings with {rounds:,} rounds, printed"
    note = f"one report, {printed_s - gathered_s:.1f} s of it for the pages"
    beside = "of this process's own time"
    return [Ratio(what, beside, printed_s - began_s, BUDGET_S, unit="s", note=note)]
