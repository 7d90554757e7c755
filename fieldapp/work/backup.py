"""Keeping a backup of a site's records: after each exchange, and now and then besides."""

from fieldapp.store.backups import Kept, keep_generation, keep_when_due
from fieldapp.work.site import Site


def keep_backup(site: Site) -> Kept:
    """Keep one more backup after an exchange; it never fails, what stands in the way is told."""
    return keep_generation(site.store, site.settings.backups)


def keep_backup_when_due(site: Site) -> Kept:
    """Keep one more backup where the last is older than an hour."""
    return keep_when_due(site.store, site.settings.backups)


def troubles(kept: Kept) -> tuple[str, ...]:
    """Give what stood in the way of a backup, and what was kept, as lines."""
    return tuple(" ".join(it.sentences()[:2]) for it in kept.troubles)
