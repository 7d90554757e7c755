"""Making a backup of a home, while others go on writing in it."""

import os
import secrets
import shutil
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path
from typing import IO

from fieldapp.store.backup_file import Backup, BadBackup, Manifest, pack, read_backup
from fieldapp.store.database_copy import copy_database
from fieldapp.store.home import DATABASE, MINE_FILE, SETTINGS_FILE
from fieldapp.store.whose import Whose, read_whose
from schemas.trouble import DiskTrouble, NotAllowed
from sync.durable import DiskFailed, DiskFull, disk_trouble, sync_folder

ROOM_LEFT_BYTES = 16 * 1024 * 1024
"""So much stays free on a disk, for the touches to come."""


@dataclass(eq=False)
class AlreadyThere(NotAllowed):
    """A backup writes over nothing."""

    path: str
    happened = "There is something of the name {path} already."
    kept = "It is as it was; no backup was written."
    do_next = "Give the backup another name."


@dataclass(eq=False)
class MineTorn(DiskTrouble):
    """The file that says whose records these are is torn."""

    path: str
    happened = "The file {path} is torn: it doesn't say any more whose records these are."
    kept = "Nothing was changed; the database is as it was."
    do_next = "Bring the home back from a backup: lastrow restore --newest."


def write_backup(
    database: Path, target: Path, made_at: datetime, photos: Sequence[Path] = ()
) -> Backup:
    """Write a database, and what else stands in its home, as one file; read it once more.

    Killed in the middle, no file of that name is there.

    Parameters
    ----------
    database : Path
        The database of a home; others may have it open.
    target : Path
        Where nothing is yet.
    made_at : datetime
        The time that it bears.
    photos : sequence of Path
        Files of the home's shelf of photos that go with it.

    Raises
    ------
    AlreadyThere
        Something of that name is there; it is left alone.
    DatabaseDamaged, MineTorn
        What is kept here is not what it was: no backup is made of that.
    DiskTrouble
        There is too little room, the disk failed, or somebody held the database all the time.
    """
    home, size = database.parent, database.stat().st_size
    larger = sum(file.stat().st_size for file in photos)

    def write(out: IO[bytes]) -> None:
        with _temporary(home) as copy:
            copied = copy_database(database, copy)
            small = (home / MINE_FILE, home / SETTINGS_FILE)
            manifest = Manifest(
                made_at=made_at, whose=_whose(home), version=copied.version, entries=copied.entries
            )
            others = (*(it for it in small if it.exists()), *photos)
            files = {it.relative_to(home).as_posix(): it for it in others}
            pack(out, manifest, {DATABASE: copy, **files})

    return _written(target, {home: size, target.parent: 2 * size + larger}, write)


def copy_backup(backup: Path, target: Path) -> Backup:
    """Copy a backup to another disk, and read it there (see `write_backup`)."""

    def write(out: IO[bytes]) -> None:
        with backup.open("rb") as content:
            shutil.copyfileobj(content, out)

    return _written(target, {target.parent: backup.stat().st_size}, write)


def _written(target: Path, room: Mapping[Path, int], write: Callable[[IO[bytes]], None]) -> Backup:
    """Write a backup that has its name only once it is on the disk and was read from there.

    Parameters
    ----------
    target : Path
        Where it is to be.
    room : mapping of Path to int
        How many bytes are needed in which folders meanwhile.
    write : callable
        Writes it.
    """
    _refuse_to_write_over(target)
    try:
        for folder, size in room.items():
            if shutil.disk_usage(folder).free < size + ROOM_LEFT_BYTES:
                raise DiskFull(str(folder))
        with _temporary(target.parent) as part:
            with part.open("xb") as out:
                write(out)
                out.flush()
                os.fsync(out.fileno())
            backup = _read_back(part, target)
            _refuse_to_write_over(target)
            os.replace(part, target)  # noqa: PTH105 - the same call on every system
        sync_folder(target.parent)
    except OSError as error:
        raise disk_trouble(error, target) from error
    return replace(backup, path=target)


def _read_back(part: Path, target: Path) -> Backup:
    try:
        return read_backup(part)
    except BadBackup as error:
        raise DiskFailed(str(target), f"read back, {error.reason}") from error


def _whose(home: Path) -> Whose:
    mine = home / MINE_FILE
    whose = read_whose(mine.read_bytes()) if mine.exists() else Whose()
    if whose is None:
        raise MineTorn(str(mine))
    return whose


def _refuse_to_write_over(target: Path) -> None:
    if target.exists():
        raise AlreadyThere(str(target))


@contextmanager
def _temporary(folder: Path) -> Iterator[Path]:
    path = folder / f"t-{secrets.token_hex(8)}.tmp"
    try:
        yield path
    finally:
        path.unlink(missing_ok=True)
