"""How long the history of one section of old support takes to open, ten years on.

What is told comes after the heading's record, which the Shift board has asked for by then. Bare
is what a script does that knows where they lie: it reads the lines of the drive's walks by the
same index and parses them, and checks nothing.
"""

import json
import sqlite3
import tempfile
from collections.abc import Iterator
from contextlib import closing
from datetime import timedelta
from decimal import Decimal
from itertools import islice
from pathlib import Path
from typing import Any

from fieldapp.start import open_site
from fieldapp.store.home import DATABASE
from fieldapp.ui.records import warm_up
from fieldapp.work.authority import at_one_state
from fieldapp.work.heading_record import heading_record
from fieldapp.work.headings import heading
from fieldapp.work.people import person
from fieldapp.work.site import Site
from fieldapp.work.walk.section_history import section_known
from fieldapp.work.writing import written
from schemas.bodies.walk import Walk
from schemas.entry import Entry
from tests.bench.many_entries import AT_THE_END, ENTRIES, many_entries
from tests.bench.ratio import Ratio, medians_s

MONTHS = 120
SECTIONS = 60
DRIVE = "Drive 7"
PLACE_M = Decimal(301)
BUDGET_S = 0.15


def ratios() -> list[Ratio]:
    """Open a section of a drive that was walked every month, among years of other entries."""
    with tempfile.TemporaryDirectory() as folder:
        home = many_entries(Path(folder) / "home", ENTRIES - MONTHS)
        site = open_site(home, now=lambda: AT_THE_END)
        with site.store:
            drive = heading(site, DRIVE).id
            site.store.ledger.add(islice(_walks(site, drive), MONTHS))
            warm_up()
            known_s, ours_s, bare_s = medians_s(
                lambda: _board_knows(site, drive),
                lambda: _opened(site, drive),
                lambda: _bare(site, drive),
            )
    what = f"a section's history of {MONTHS // 12} years, {ENTRIES:,} entries"
    beside = f"its lines read by SQLite and parsed, {bare_s * 1000:.0f} ms"
    note = f"the heading's record before it {known_s * 1000:.0f} ms"
    return [Ratio(what, beside, ours_s - known_s, BUDGET_S, unit="s", note=note)]


def _board_knows(site: Site, drive: str) -> None:
    """Ask for the heading's record as after something was stated."""
    with at_one_state(site, anew=True):
        heading_record(site, drive)


def _opened(site: Site, drive: str) -> None:
    """Open it as after something was stated: no walk is remembered of this state."""
    with at_one_state(site, anew=True):
        heading_record(site, drive)
        known = section_known(site, drive, PLACE_M)
    assert known is not None
    assert len(known.looks) == MONTHS


def _bare(site: Site, drive: str) -> None:
    query = "SELECT line FROM entry WHERE kind = 'walk' AND heading = ?"
    with closing(sqlite3.connect(site.folder / DATABASE)) as file:
        lines = file.execute(query, (drive,)).fetchall()
    assert len([json.loads(line) for (line,) in lines]) == MONTHS


def _walks(site: Site, drive: str) -> Iterator[Entry]:
    technician = person(site, "Geotechnical technician").id
    before: Entry | None = None
    for month in range(MONTHS):
        at = AT_THE_END - timedelta(days=30 * (MONTHS - month))
        body: dict[str, Any] = {
            "heading": drive,
            "month": at.date().isoformat()[:7],
            "began_at": at,
            "ended_at": at + timedelta(hours=3),
            "sections": [_section(number, at) for number in range(SECTIONS)],
        }
        before = written(site, "walk", Walk.model_validate(body), author=technician, after=before)
        yield before


def _section(number: int, at: Any) -> dict[str, Any]:
    seen = {
        "from_m": f"{100 + number * 10}",
        "to_m": f"{110 + number * 10}",
        "at": at + timedelta(minutes=number),
        "answer": "nothing new",
    }
    if number % 5:
        return seen
    parts = [{"part": it, "zone": "back", "severity": "S0"} for it in ("bolts", "plates", "mesh")]
    return seen | {
        "parts": parts,
        "in_full": ["back"],
        "zones": [{"zone": "back", "water": "dry"}],
    }
