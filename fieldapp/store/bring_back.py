"""Brings a home back: from a backup, and from what can still be read of a damaged database.

The new home is put together in a folder of its own, checked from end to end, and takes the
place of the old one by one rename. Killed before that, everything is as it was; after it,
whoever opens the home next finishes what is left to do (`home.put_in_place`). The damaged
database is kept as a copy. What was sent after the backup, and can't be read here, comes back
from the shared folder with the next exchange.
"""

import logging
import os
import shutil
from collections.abc import Callable, Iterator
from contextlib import closing
from dataclasses import dataclass
from datetime import datetime
from hashlib import sha256
from pathlib import Path

from fieldapp.store.backup_file import Backup, BadBackup, read_backup, unpack
from fieldapp.store.backups import generations, second_folder
from fieldapp.store.carry_over import begin_anew, carry_over
from fieldapp.store.engine import Database
from fieldapp.store.home import (
    BACKUPS,
    BEING_BROUGHT_BACK,
    BROUGHT_BACK,
    DATABASE,
    MARKER,
    MARKER_TEXT,
    MINE_FILE,
    PHOTOS,
    SETTINGS_FILE,
    put_in_place,
)
from fieldapp.store.journal import Journal
from fieldapp.store.kept_before import kept_before
from fieldapp.store.lacking import RecordsNotWhole
from fieldapp.store.opening import assembled, opened
from fieldapp.store.place import refuse_unfit_place
from fieldapp.store.rescue import copied, readable
from fieldapp.store.salvage import Saved
from fieldapp.store.troubles import DatabaseDamaged, DatabaseNewer, DatabaseSetAside
from fieldapp.store.upgrade import carry_forward
from fieldapp.store.whose import Whose, read_whose
from schemas.trouble import BadInput, NotAllowed
from sync.durable import disk_trouble, sync_folder, write_once
from sync.segment import BrokenSegment

_UNTIL_IT_IS_WHOLE = Journal("memory", "OFF")
"""Nothing of it is believed before it was checked and is on the disk as a whole."""

_NOT_WHAT_IT_WAS = (DatabaseDamaged, BrokenSegment, RecordsNotWhole)

Now = Callable[[], datetime]

log = logging.getLogger(__name__)


@dataclass(eq=False)
class HomeSound(NotAllowed):
    """Records that are sound need not be brought back."""

    home: str
    happened = "The records in {home} are sound: there is nothing to bring back."
    kept = "They were looked at from end to end and left as they are."
    do_next = "Go on with them; a backup can be looked into in another folder with --home."


@dataclass(eq=False)
class BackupOfAnother(NotAllowed):
    """A backup of one tablet was to take the place of another one's records."""

    path: str
    theirs: str
    ours: str
    happened = "The backup {path} is of {theirs}, and the records here are of {ours}."
    kept = "Nothing was changed."
    do_next = "Name a folder of its own with --home, or take a backup of this tablet."


@dataclass(eq=False)
class NoBackup(BadInput):
    """There is nothing to bring a home back from."""

    home: str
    happened = "There is no good backup for {home}, and no database that could be read."
    kept = "Nothing was changed."
    do_next = "Name a backup: lastrow restore FILE. Or start anew, and pair with the share."


@dataclass(frozen=True)
class BroughtBack:
    """What a home was brought back from, and what it holds now."""

    entries: int
    backup: Backup | None
    read: int
    """Entries that were read out of the damaged database and no backup had."""
    missing: int
    """Entries that are known to have been there, and are not here."""
    copy: Path | None
    """Where the damaged database lies."""


def bring_back(home: Path, backup: Backup, now: Now) -> BroughtBack:
    """Bring a home back from one backup, and from what can be read of a damaged database.

    Raises
    ------
    HomeSound
        There are records in it that are sound.
    BackupOfAnother
        The backup is of another mine or tablet.
    PlaceRefused
        The home lies on a share, a stick or a cloud drive.
    BadBackup, DatabaseDamaged, BrokenSegment, RecordsNotWhole, DatabaseNewer
        The backup can't be used by this program; nothing was changed.
    DiskTrouble
        The disk is full, read-only or gone; nothing was changed.
    """
    _refuse_another_s(home, backup)
    return _put_together(home, backup, _damaged(home), now)


def bring_back_newest(home: Path, second: Path | None, now: Now) -> BroughtBack:
    """Bring a home back from the newest backup that is good; from the database alone if none is.

    Parameters
    ----------
    home : Path
        The home.
    second : Path, optional
        The second place of its backups, as the settings name it.
    now : callable
        Asks the clock.

    Raises
    ------
    NoBackup
        There is neither a backup nor a database.
    HomeSound, DiskTrouble
        As in `bring_back`.
    """
    copy = _damaged(home)
    for path in newest_first(home, second):
        try:
            backup = read_backup(path)
            _refuse_another_s(home, backup)
            return _put_together(home, backup, copy, now)
        except (BadBackup, BackupOfAnother, DatabaseNewer, *_NOT_WHAT_IT_WAS):
            continue
    if copy is None:
        raise NoBackup(str(home))
    return _put_together(home, None, copy, now)


def newest_first(home: Path, second: Path | None = None) -> Iterator[Path]:
    """Give the backups that a home may be brought back from, whether they are good or not.

    Those beside the database first, the newest of them first: the second place has no newer.
    """
    folders = [home / BACKUPS]
    ours = whose(home)
    if second is not None and ours is not None:
        folders.append(second_folder(second, ours))
    for folder in folders:
        yield from (it.path for it in reversed(generations(folder)))
    yield from reversed(kept_before(home / BACKUPS))


def whose(home: Path) -> Whose | None:
    """Tell whose records a home holds; None where its file is torn."""
    mine = home / MINE_FILE
    return read_whose(mine.read_bytes()) if mine.exists() else Whose()


def _refuse_another_s(home: Path, backup: Backup) -> None:
    ours, theirs = whose(home), backup.manifest.whose
    if ours is not None and ours.is_another_s(theirs):
        raise BackupOfAnother(str(backup.path), theirs.words(), ours.words())


def _damaged(home: Path) -> Path | None:
    """Give the copy of a damaged database; None where there is none, or nothing in it.

    Raises
    ------
    HomeSound
        It is sound, and holds something.
    """
    refuse_unfit_place(home)
    try:
        home.mkdir(parents=True, exist_ok=True)
        put_in_place(home)
        if not (home / DATABASE).exists():
            return None
        if _is_sound(home):
            return None
        return copied(home / DATABASE)
    except OSError as error:
        raise disk_trouble(error, home) from error


def _is_sound(home: Path) -> bool:
    """Whether a database is sound, as one in which nobody has stated anything yet is."""
    if whose(home) is None:
        return False
    try:
        with opened(home) as store:
            store.check()
            if store.ledger.state().newest or store.drafts.open_drafts():
                raise HomeSound(str(home))
    except (DatabaseSetAside, *_NOT_WHAT_IT_WAS):
        return False
    return True


def _put_together(home: Path, backup: Backup | None, copy: Path | None, now: Now) -> BroughtBack:
    being = home / BEING_BROUGHT_BACK
    try:
        saved = readable(copy / DATABASE) if copy else Saved()
        shutil.rmtree(being, ignore_errors=True)
        being.mkdir()
        if backup is not None:
            unpack(backup, being)
            _shelve_photos(home, being)
            _keep_what_is_good(home, being)
        write_once(being / MARKER, MARKER_TEXT)
        before, entries = _fill(being / DATABASE, home, saved, now)
        sync_folder(being)
        os.replace(being, home / BROUGHT_BACK)  # noqa: PTH105 - the same call on every system
        sync_folder(home)
        put_in_place(home)
    except OSError as error:
        raise disk_trouble(error, home) from error
    finally:
        shutil.rmtree(being, ignore_errors=True)  # what a full disk has no room for
    log.info("home brought back", extra={"entries": entries, "read": entries - before})
    return BroughtBack(entries, backup, entries - before, max(0, saved.highest - entries), copy)


def _fill(file: Path, home: Path, saved: Saved, now: Now) -> tuple[int, int]:
    """Make the new database, on the disk and checked; give its entries before and after."""
    with closing(Database(file, _UNTIL_IT_IS_WHOLE)) as database:
        carry_forward(database)
        store = assembled(database, home, now)
        before = store.ledger.state().newest
        carry_over(saved, store)
        store.photos.take_stock()
        begin_anew(store)
        store.wholeness.begin_anew()
        entries = store.check().entries
    with file.open("rb+") as written:
        os.fsync(written.fileno())
    return before, entries


def _shelve_photos(home: Path, being: Path) -> None:
    """Put the photos of a backup onto the shelf: named for their bytes, they replace nothing."""
    for photo in sorted(it for it in (being / PHOTOS).rglob("*") if it.is_file()):
        place = home / photo.relative_to(being)
        place.parent.mkdir(parents=True, exist_ok=True)
        os.replace(photo, place)  # noqa: PTH105 - the same call on every system
        sync_folder(place.parent)
    shutil.rmtree(being / PHOTOS, ignore_errors=True)


def _keep_what_is_good(home: Path, being: Path) -> None:
    """Leave a home's settings as they are, and whose it is; what is torn is kept aside first."""
    mine, kept = home / MINE_FILE, {MINE_FILE, SETTINGS_FILE}
    if whose(home) is None:
        content = mine.read_bytes()
        write_once(mine.with_name(f"mine-torn-{sha256(content).hexdigest()[:8]}.json"), content)
        kept.remove(MINE_FILE)
    for name in kept:
        if (home / name).exists():
            (being / name).unlink(missing_ok=True)
