"""The backups of this tablet in words; no widgets here."""

from pathlib import Path
from zoneinfo import ZoneInfo

from fieldapp.report.words.findings import when
from fieldapp.store.backups import generations, second_folder
from fieldapp.store.bring_back import whose
from fieldapp.store.home import BACKUPS
from fieldapp.ui.translate import _
from fieldapp.work.site import Site


def backup_words(site: Site) -> str:
    """Say when the newest backup was made, and what the second place holds where one is named."""
    words = _newest(site.folder / BACKUPS, site.settings.zone)
    second, ours = site.settings.backups, whose(site.folder)
    if second is None or ours is None:
        return words
    if not second.is_dir():
        return words + "\n" + _("the second place is away")
    return (
        words
        + "\n"
        + _("second place: {newest}").format(
            newest=_newest(second_folder(second, ours), site.settings.zone)
        )
    )


def _newest(folder: Path, zone: str) -> str:
    kept = generations(folder)
    if not kept:
        return _("none yet")
    return _("newest {time}").format(time=when(kept[-1].made_at, ZoneInfo(zone)))
