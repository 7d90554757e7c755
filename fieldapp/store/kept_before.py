"""A backup of the database as it was, kept beside it before a newer version carries it forward."""

import shutil
from datetime import datetime
from pathlib import Path

from fieldapp.store.backup import write_backup
from fieldapp.store.backup_file import ENDING
from fieldapp.store.home import BACKUPS
from sync.durable import DiskFull, disk_trouble

ROOM_FOR_AN_UPGRADE = 2.2
"""So many times the database's size is free before anything is begun: the copy, and the log."""

_NAME = "before-upgrade-of-{version}" + ENDING


def keep_before_upgrade(database: Path, version: str, made_at: datetime) -> Path:
    """Keep a backup of a database, whole and checked, and give where it is.

    One of an upgrade that was cut short gives way to it; so do those of upgrades before.

    Raises
    ------
    DatabaseDamaged
        It is damaged.
    DiskTrouble
        There is too little room for the copy and the upgrade, or the disk failed; nothing was
        begun.
    """
    folder = database.parent / BACKUPS
    kept = folder / _NAME.format(version=version)
    try:
        folder.mkdir(exist_ok=True)
        if shutil.disk_usage(folder).free < ROOM_FOR_AN_UPGRADE * database.stat().st_size:
            raise DiskFull(str(database))
        kept.unlink(missing_ok=True)
        write_backup(database, kept, made_at)
        for older in set(kept_before(folder)) - {kept}:
            older.unlink()
    except OSError as error:
        raise disk_trouble(error, kept) from error
    return kept


def kept_before(folder: Path) -> list[Path]:
    """Give the backups in a folder that were made before an upgrade."""
    return sorted(folder.glob(_NAME.format(version="*")))
