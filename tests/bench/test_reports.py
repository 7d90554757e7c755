"""A thick month of 40 headings, from the records to its printed pages: how long, how large."""

import tempfile
import time
from pathlib import Path
from zoneinfo import ZoneInfo

from fieldapp.report.reported import Wanted, report_file
from fieldapp.start import open_site
from fieldapp.work.reporting.month import month_report
from fieldapp.work.reporting.months import last_second_of
from fieldapp.work.reporting.then import of_tablet
from tests.bench.full_month import AT_THE_END, MONTH, full_month
from tests.bench.ratio import Ratio

BUDGET_S = 60.0
BUDGET_MB = 15.0


def ratios() -> list[Ratio]:
    """Report a month in which every heading advanced twice a day and 200 damages were found."""
    with tempfile.TemporaryDirectory() as folder:
        home = full_month(Path(folder) / "home")
        site = open_site(home, now=lambda: AT_THE_END)
        with site.store:
            on = of_tablet(site).as_at(last_second_of(MONTH, ZoneInfo(site.settings.zone)))
            began_s = time.process_time()
            facts = month_report(on, MONTH)
            gathered_s = time.process_time()
            printed = report_file(on, facts, Wanted())
            done_s = time.process_time()
    rounds = sum(len(it.rounds) for it in facts.headings)
    damages = sum(len(it.found) for it in facts.headings)
    month = f"a month of {len(facts.headings)} headings, {rounds:,} rounds, {damages} damages"
    note = f"one report, {done_s - gathered_s:.1f} s of it for the pages"
    took = done_s - began_s
    size_mb = len(printed) / 1e6
    return [
        Ratio(f"{month}, printed", "of this process's own time", took, BUDGET_S, "s", note=note),
        Ratio(f"{month}, its file", "with a photo of each damage", size_mb, BUDGET_MB, "MB"),
    ]
