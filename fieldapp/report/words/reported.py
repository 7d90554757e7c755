"""What tablets say about bad files of the shared folder, in words for the terminal and screen."""

from collections.abc import Iterator, Mapping
from typing import Final
from zoneinfo import ZoneInfo

from assets.translate import _, counted
from fieldapp.assess.times import MONTHS
from fieldapp.report.words.findings import when
from fieldapp.work.share.delivered import tablet_names
from fieldapp.work.share.reported import reported
from fieldapp.work.site import Site
from sync.names import SegmentName
from sync.reports import FileName, Report

MOST_TOLD: Final = 5


def reported_lines(site: Site) -> Iterator[str]:
    """Say who can't read which file, what was done about it here, and what was mended lately."""
    found = reported(site)
    names, zone = tablet_names(site), ZoneInfo(site.settings.zone)
    own = site.store.holdings.own_tablets()
    for it in found[:MOST_TOLD]:
        who = names.get(it.by, it.by)
        yield _(
            "{file} was bad or missing in the shared folder when {who} looked, since {since}. "
            "{done}"
        ).format(
            file=_file(it.file, names),
            who=who,
            since=when(it.since, zone),
            done=_done(it, who, zone, is_own=it.by in own),
        )
    if len(found) > MOST_TOLD:
        more = len(found) - MOST_TOLD
        yield counted("{} more such file.", "{} more such files.", more)


def _done(report: Report, who: str, zone: ZoneInfo, *, is_own: bool) -> str:
    """Say what became of it."""
    if report.read_at is not None:
        return _("It is good again: {who} read it {time}.").format(
            who=who, time=when(report.read_at, zone)
        )
    if is_own:
        return _("The others were told: whoever holds it puts it right.")
    if report.look is None:
        return _("Whoever holds it puts it right.")
    if report.look.put_right:
        return _("This machine put it there again.")
    return _("This machine looked, and read it well.")


def _file(file: FileName, names: Mapping[str, str]) -> str:
    if isinstance(file, SegmentName):
        whose = names.get(file.tablet, file.tablet)
        return _("Segment {number} of {tablet}").format(number=file.seq, tablet=whose)
    month = _(MONTHS[int(file.month[4:]) - 1])
    return _("A photo of {month} {year}").format(month=month, year=file.month[:4])
