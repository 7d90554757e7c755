"""The backups that a tablet keeps by itself: three generations beside the database.

And as many in a second place, where the settings name one. The newest is always kept; the two
before it come to lie a day apart, so that damage which is noticed late is not in all of them.
"""

import logging
import os
import re
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from functools import partial
from pathlib import Path
from typing import Self

from fieldapp.store import Store
from fieldapp.store.backup import copy_backup, write_backup
from fieldapp.store.backup_file import ENDING, read_backup
from fieldapp.store.home import BACKUPS, DATABASE, MINE_FILE, SETTINGS_FILE, beside
from fieldapp.store.whose import Whose
from schemas.trouble import DiskTrouble, Trouble
from sync.durable import DiskFailed, disk_trouble

GENERATIONS = 3
HOUR, DAY = timedelta(hours=1), timedelta(days=1)
LEFT_BEHIND_AFTER_S = 3600.0

_NAME = re.compile(r"(\d{6,})-(\d{8}T\d{6})Z" + re.escape(ENDING))
_STAMP = "%Y%m%dT%H%M%S"

log = logging.getLogger(__name__)


@dataclass(frozen=True, order=True)
class Generation:
    """One backup that was kept: its number, and when it was made by the tablet's clock."""

    number: int
    made_at: datetime
    path: Path

    @classmethod
    def of_file(cls, path: Path) -> Self | None:
        """Read it out of a file's name; None for anything else."""
        match = _NAME.fullmatch(path.name)
        if match is None:
            return None
        return cls(int(match[1]), datetime.strptime(match[2], _STAMP).replace(tzinfo=UTC), path)

    @classmethod
    def next(cls, kept: Sequence[Self], folder: Path, made_at: datetime) -> Self:
        """Name the one that comes after those that are kept."""
        number = kept[-1].number + 1 if kept else 1
        at = made_at.astimezone(UTC).replace(microsecond=0)
        return cls(number, at, folder / f"{number:06d}-{at.strftime(_STAMP)}Z{ENDING}")


@dataclass(eq=False)
class BackupNotKept(DiskTrouble):
    """Something stood in the way of a backup; work goes on."""

    why: str
    way_on: str
    happened = "No backup of the records was kept: {why}."
    kept = "The records are on the disk as before, and so are the backups before this one."
    do_next = "{way_on} A backup can also be made by hand: lastrow backup FILE."


@dataclass(frozen=True)
class Kept:
    """The newest generation, and what stood in the way of keeping one more."""

    newest: Generation | None
    here: BackupNotKept | None = None
    second: BackupNotKept | None = None

    @property
    def troubles(self) -> tuple[BackupNotKept, ...]:
        """What a person has to be told of."""
        return tuple(it for it in (self.here, self.second) if it is not None)


def generations(folder: Path) -> list[Generation]:
    """Give the backups that are kept in a folder, oldest first."""
    found = (Generation.of_file(path) for path in folder.glob(f"*{ENDING}"))
    return sorted(it for it in found if it is not None)


def keep_generation(store: Store, second: Path | None = None) -> Kept:
    """Keep one more backup of an open store, after an exchange; work goes on meanwhile.

    Where nothing was written since the last one it is left at that, for a day. Each is looked
    through from end to end before it takes anything's place, so this is also what notices
    damage that no start shows.

    Parameters
    ----------
    store : Store
        What is to be kept.
    second : Path, optional
        A folder on a second medium, which gets the same.

    Returns
    -------
    Kept
        It never fails: what stands in the way is told in it, and older ones are left alone.
    """
    folder = store.folder / BACKUPS
    here = _trouble(partial(_keep, store, folder), folder)
    newest = next(iter(generations(folder)[::-1]), None)
    kept_there = None
    if second is not None and newest is not None:
        kept_there = _trouble(partial(_keep_in_second, newest, second), second)
    return Kept(newest, here, kept_there)


def keep_when_due(store: Store, second: Path | None = None) -> Kept:
    """Keep one more backup where the last is older than an hour (see `keep_generation`)."""
    kept = generations(store.folder / BACKUPS)
    if kept and abs(store.now() - kept[-1].made_at) < HOUR:
        return Kept(kept[-1])
    return keep_generation(store, second)


def second_folder(second: Path, whose: Whose) -> Path:
    """Give the folder for one tablet's backups in a place that several may share."""
    return second / f"lastrow-{whose.tablet or 'tablet'}"


def _keep(store: Store, folder: Path) -> None:
    lacking = store.wholeness.look()
    if lacking is not None:  # it would take the place of a backup that has it
        raise lacking.told()
    folder.mkdir(exist_ok=True)
    _clear_away(store.folder, folder)
    kept, now = generations(folder), store.now()
    written_ns = _last_written_ns(store.folder)
    if kept and abs(now - kept[-1].made_at) < DAY and _is_of(kept[-1], written_ns):
        return
    new = Generation.next(kept, folder, now)
    write_backup(store.folder / DATABASE, new.path, now)
    os.utime(new.path, ns=(written_ns, written_ns))
    _thin_out(folder)


def _is_of(kept: Generation, written_ns: int) -> bool:
    """Whether nothing was written since: a backup bears the time of what it was made of."""
    return kept.path.stat().st_mtime_ns == written_ns


def _last_written_ns(home: Path) -> int:
    small = (home / name for name in (MINE_FILE, SETTINGS_FILE))
    files = [home / DATABASE, *beside(home / DATABASE), *(it for it in small if it.exists())]
    return max(file.stat().st_mtime_ns for file in files)


def _thin_out(folder: Path) -> None:
    kept = generations(folder)
    while len(kept) > GENERATIONS:
        before_last, last_but_one = kept[-3:-1]
        near = abs(last_but_one.made_at - before_last.made_at) < DAY
        gone = last_but_one if near else kept[0]
        gone.path.unlink()
        kept.remove(gone)


def _keep_in_second(newest: Generation, second: Path) -> None:
    """Copy the newest to the second medium, and read it from there."""
    if not second.is_dir():
        raise DiskFailed(str(second), "there is no such folder")
    folder = second_folder(second, read_backup(newest.path).manifest.whose)
    folder.mkdir(exist_ok=True)
    _clear_away(folder)
    kept = generations(folder)
    if not kept or kept[-1].made_at != newest.made_at:
        copy_backup(newest.path, Generation.next(kept, folder, newest.made_at).path)
        _thin_out(folder)


def _trouble(keep: Callable[[], None], place: Path) -> BackupNotKept | None:
    """Keep a backup, or tell what stood in the way: work goes on without one."""
    try:
        keep()
    except OSError as error:
        return _not_kept(disk_trouble(error, place))
    except Trouble as trouble:
        return _not_kept(trouble)
    return None


def _not_kept(trouble: Trouble) -> BackupNotKept:
    happened, _, way_on = trouble.sentences()
    why = happened[:1].lower() + happened[1:].removesuffix(".")
    log.warning("no backup was kept", extra={"reason": why})
    return BackupNotKept(why, way_on)


def _clear_away(*folders: Path) -> None:
    """Take away what was being written when somebody pulled the plug, long ago."""
    for folder in folders:
        for file in folder.glob("t-*.tmp"):
            if abs(time.time() - file.stat().st_mtime) > LEFT_BEHIND_AFTER_S:
                file.unlink()
