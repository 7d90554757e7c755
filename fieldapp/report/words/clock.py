"""What was found about tablets' clocks, in words for the terminal and the screen."""

from collections.abc import Iterator
from datetime import timedelta
from typing import Final
from zoneinfo import ZoneInfo

from assets.translate import _, counted
from fieldapp.report.words.findings import when
from fieldapp.work.clocks import Noted, ahead, noted_lately
from fieldapp.work.share.delivered import tablet_names
from fieldapp.work.site import Site

MOST_TOLD: Final = 5
HOURS_SAID_UP_TO: Final = timedelta(days=2)


def clock_lines(site: Site) -> Iterator[str]:
    """Say whose clock was off by how much: by their own word, and by the times they gave."""
    names, zone, now = tablet_names(site), ZoneInfo(site.settings.zone), site.now()
    for it in noted_lately(site)[:MOST_TOLD]:
        yield _noted(it, names.get(it.by, it.by), zone)
    for tablet, at in sorted(ahead(site).items())[:MOST_TOLD]:
        yield _(
            "{who} gave a time that is {span} ahead of the clock here: one of the two is wrong."
        ).format(who=names.get(tablet, tablet), span=span(at - now))


def span(off: timedelta) -> str:
    """Write how much a clock is off: "47 min", "9 h", "3,650 days"."""
    minutes = round(off / timedelta(minutes=1))
    if off < timedelta(hours=2):
        return f"{minutes} min"
    if off < HOURS_SAID_UP_TO:
        return f"{round(minutes / 60)} h"
    return counted("{:,} day", "{:,} days", round(off / timedelta(days=1)))


def _noted(it: Noted, who: str, zone: ZoneInfo) -> str:
    off, at = span(it.note.known - it.note.said), when(it.note.said, zone)
    if it.note.found == "put back":
        return _(
            "The clock of {who} was put back by {span}, to {time}: times that it gave "
            "around then are in doubt."
        ).format(who=who, span=off, time=at)
    return _(
        "The clock of {who} was {span} slow or more when it said {time}: times that it gave "
        "until then are in doubt."
    ).format(who=who, span=off, time=at)
