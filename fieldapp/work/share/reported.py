"""Files of the share that some tablet can't read: what is still so, and what was mended lately."""

from datetime import timedelta
from typing import Final

from fieldapp.work.site import Site
from sync.reports import Report, reports

TOLD_FOR: Final = timedelta(days=7)
"""So long it is still shown that a file was mended."""


def reported(site: Site) -> tuple[Report, ...]:
    """Give the reports that stand, the newest first; then those that ended lately."""
    found, now = reports(site.store.holdings)[::-1], site.now()
    standing = (it for it in found if it.read_at is None)
    ended = (it for it in found if it.read_at is not None and abs(now - it.read_at) < TOLD_FOR)
    return (*standing, *ended)
