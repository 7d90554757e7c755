"""Keeps a copy of a damaged database, and reads in it what can be read."""

import hashlib
import shutil
from pathlib import Path

from fieldapp.store.home import beside
from fieldapp.store.pages import with_log
from fieldapp.store.salvage import Saved, readable_in
from fieldapp.store.troubles import DatabaseDamaged, DatabaseSetAside
from sync.durable import disk_trouble, sync_folder, write_once


def set_aside(damage: DatabaseDamaged) -> DatabaseSetAside:
    """Keep a copy of a damaged database and tell how much of it can be read.

    Done again for the same bytes, it is the same copy.
    """
    path = Path(damage.database)
    try:
        copy = copied(path)
        count = len(readable(copy / path.name).entries)
    except OSError as error:
        raise disk_trouble(error, path) from error
    return DatabaseSetAside(damage.database, damage.reason, str(copy), count)


def copied(database: Path) -> Path:
    """Copy the files of a database into a folder named for their bytes, and give the folder."""
    files = [file for file in (database, *beside(database)) if file.exists()]
    digest = hashlib.sha256(b"".join(file.read_bytes() for file in files))
    copy = database.with_name(f"damaged-{digest.hexdigest()[:16]}")
    if not copy.exists():
        part = database.with_name(copy.name + ".tmp")
        shutil.rmtree(part, ignore_errors=True)
        part.mkdir()
        for file in files:
            write_once(part / file.name, file.read_bytes())
        part.rename(copy)
        sync_folder(copy.parent)
    return copy


def readable(database: Path) -> Saved:
    """Read what can be read in a database, with what stands in its write-ahead log."""
    content = database.read_bytes() if database.exists() else b""
    log = database.with_name(database.name + "-wal")
    if log.exists():
        content = with_log(content, log.read_bytes())
    return readable_in(content)
