"""A copy of the database as it was, kept beside it before a newer version carries it forward."""

import os
import secrets
import shutil
import sqlite3
from contextlib import closing
from pathlib import Path

from sync.durable import DiskFailed, DiskFull, sync_folder

ROOM_FOR_AN_UPGRADE = 2.2
"""So many times the database's size is free before anything is begun: the copy, and the log."""


def keep_before_upgrade(database: Path, version: str) -> Path:
    """Copy a database, whole and checked, and give where the copy is.

    Raises
    ------
    DiskFull
        There is too little room for the copy and the upgrade; nothing was begun.
    DiskFailed
        The copy could not be made.
    """
    if shutil.disk_usage(database.parent).free < ROOM_FOR_AN_UPGRADE * database.stat().st_size:
        raise DiskFull(str(database))
    kept = database.with_name(f"{database.stem}-before-upgrade-of-{version}.db")
    part = database.with_name(f"t-{secrets.token_hex(8)}.tmp")
    try:
        _copy(database, part)
        part.replace(kept)
    except sqlite3.Error as error:
        raise DiskFailed(str(kept), str(error)) from error
    finally:
        part.unlink(missing_ok=True)
    sync_folder(kept.parent)
    return kept


def _copy(database: Path, part: Path) -> None:
    with closing(sqlite3.connect(database)) as old, closing(sqlite3.connect(part)) as new:
        old.backup(new, pages=-1)
        (found,) = new.execute("PRAGMA quick_check").fetchone()
        if found != "ok":
            raise sqlite3.DatabaseError(f"the copy is damaged: {found}")
    with part.open("rb") as file:
        os.fsync(file.fileno())
