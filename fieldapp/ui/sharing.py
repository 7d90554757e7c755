"""What the Share folder screen asks for, beside the screen; no widgets here."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from zoneinfo import ZoneInfo

from fieldapp.report.words.clock import clock_lines
from fieldapp.report.words.exchange import delivered_line, exchange_lines
from fieldapp.report.words.findings import when
from fieldapp.report.words.reported import reported_lines
from fieldapp.report.words.trust import standing_lines
from fieldapp.ui.translate import _
from fieldapp.work.share.delivered import delivered, tablet_names
from fieldapp.work.share.exchange import last_exchange, share
from fieldapp.work.share.sides import SideBySide, side_by_side
from fieldapp.work.site import Site
from fieldapp.work.site_states import is_paired
from sync.outcome import Progress, Stopped, Watcher


@dataclass(frozen=True)
class Seen:
    """How it stands with the share."""

    lines: tuple[str, ...]
    paired: bool
    disputes: tuple[SideBySide, ...] = ()


class Stopper:
    """Lets somebody stop an exchange that goes on beside the screen."""

    def __init__(self) -> None:
        self.stopped = False

    def stop(self) -> None:
        """Stop at the next step; what is done by then is done."""
        self.stopped = True

    def watch(self, tell: Callable[[Progress], None], progress: Progress) -> None:
        """Hand a step on, or stop there."""
        if self.stopped:
            raise Stopped
        tell(progress)


def as_it_is(site: Site) -> Seen:
    """Say how it stands before anybody exchanges."""
    if site.mine.demo:
        return Seen((_("The demo mine is invented: it has no shared folder."),), paired=False)
    if not is_paired(site):
        alone = (
            _("This tablet belongs to no shared folder yet."),
            _("Everything that is stated here is kept on it and waits."),
            _("The office enrols it: touch Join a site."),
        )
        return Seen(alone, paired=False)
    at = last_exchange(site)
    zone = ZoneInfo(site.settings.zone)
    heard = _("Shared last {time}.").format(time=when(at, zone)) if at else ""
    differ = side_by_side(site)
    waits = () if site.settings.share else (_("Nobody said yet where the shared folder is."),)
    lines = (
        *standing_lines(site),
        heard or _("Nothing was shared yet."),
        *waits,
        delivered_line(delivered(site)),
    )
    return Seen((*lines, *_told(site), *_differ(differ)), paired=True, disputes=differ)


def after_exchange(site: Site, watch: Watcher) -> Seen:
    """Exchange with the share, and say what it came to."""
    outcome = share(site, site.settings.share, watch=watch)
    lines = (*standing_lines(site), *exchange_lines(outcome, tablet_names(site)))
    differ = side_by_side(site)
    all_lines = (*lines, delivered_line(delivered(site)), *_told(site), *_differ(differ))
    return Seen(all_lines, paired=True, disputes=differ)


def _told(site: Site) -> Iterator[str]:
    yield from reported_lines(site)
    yield from clock_lines(site)


def _differ(found: tuple[SideBySide, ...]) -> Iterator[str]:
    for it in found:
        yield _("Stated differently on two tablets: {what}.").format(what=_(it.what))
