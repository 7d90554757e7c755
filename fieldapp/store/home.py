"""The files of a home folder by their names, and how what was brought back takes their place.

Apart from the database itself, so that every start can ask cheaply.
"""

import os
from pathlib import Path

from sync.durable import disk_trouble, sync_folder

DATABASE = "lastrow.db"
MARKER = "lastrow.here"
"""Says that there was a database, so that one that goes missing is not made anew in silence."""
MARKER_TEXT = b"Lastrow keeps its database in this folder. If it is missing, it was lost.\n"
MINE_FILE = "mine.json"
"""Whose records these are; written once."""
SETTINGS_FILE = "settings.toml"
PHOTOS = "photos"
"""The folder of the shelf of photos: each is named for its bytes."""
BACKUPS = "backups"
"""The folder of the backups that are kept beside the database."""

BEING_BROUGHT_BACK = "bringing-back"
"""Where a home is put together; whatever was left there half-way is of no worth."""
BROUGHT_BACK = "brought-back"
"""The same once it is whole: from this name on the home is what lies in it."""

_BESIDE = ("-journal", "-wal", "-shm")


def beside(database: Path) -> list[Path]:
    """Give the files that SQLite keeps beside a database, as far as they are there."""
    files = (database.with_name(database.name + end) for end in _BESIDE)
    return [file for file in files if file.exists()]


def put_in_place(home: Path) -> None:
    """Put every file that was brought back into its place. Killed in the middle, do it again.

    Called before a home is opened; where nothing was brought back it asks for one name. The
    journal of the database that was there goes first: it would be rolled into the new one.

    Raises
    ------
    DiskTrouble
        The disk is full, read-only or gone.
    """
    brought = home / BROUGHT_BACK
    if not brought.is_dir():
        return
    try:
        for file in beside(home / DATABASE):
            file.unlink()
        sync_folder(home)
        for file in sorted(brought.iterdir()):
            os.replace(file, home / file.name)  # noqa: PTH105 - the same call on every system
        sync_folder(home)
        brought.rmdir()
        sync_folder(home)
    except OSError as error:
        raise disk_trouble(error, home) from error
