"""Opens the store of a folder: looks at it first, and sets it aside when it is damaged."""

import os
from collections.abc import Callable
from contextlib import ExitStack
from datetime import UTC, datetime
from functools import partial
from pathlib import Path

from fieldapp.store import Store, checkup
from fieldapp.store.drafts import Drafts
from fieldapp.store.engine import Database
from fieldapp.store.gathered import Gathered
from fieldapp.store.holdings import SqlHoldings
from fieldapp.store.kept_trust import KeptTrust
from fieldapp.store.keys import Keys
from fieldapp.store.ledger import SqlLedger
from fieldapp.store.photo_shelf import FilePhotoShelf
from fieldapp.store.rescue import Rescued, interrupted, salvage, set_aside
from fieldapp.store.sealing import Sealing
from fieldapp.store.troubles import (
    DatabaseDamaged,
    DatabaseGone,
    DatabaseSetAside,
    NothingToSalvage,
)
from fieldapp.store.upgrade import upgrade, version_of
from sync.durable import disk_trouble, write_once
from sync.segment import BrokenSegment

DATABASE = "lastrow.db"
MARKER = "lastrow.here"
_MARKER_TEXT = b"Lastrow keeps its database in this folder. If it is missing, it was lost.\n"


def opened(folder: Path, now: Callable[[], datetime] | None = None) -> Store:
    """Open the store in a folder (see `fieldapp.store.open_store`)."""
    try:
        database = _checked(folder)
    except DatabaseDamaged as damage:
        raise set_aside(damage) from damage
    keys = Keys(database, os.urandom)
    sealing = Sealing(database, keys)
    trust = KeptTrust(database.place)
    clock = now or partial(datetime.now, UTC)
    ledger = SqlLedger(database, trust)
    return Store(
        folder=folder,
        database=database,
        ledger=ledger,
        drafts=Drafts(database),
        keys=keys,
        sealing=sealing,
        gathered=Gathered(database),
        holdings=SqlHoldings(database, keys, sealing, trust, now=clock, random_bytes=os.urandom),
        photos=FilePhotoShelf(folder, database, ledger, keys, now=clock, random_bytes=os.urandom),
    )


def salvaged(folder: Path) -> Rescued:
    """Put a new database in the place of a damaged one, with what can be read of it.

    A sound one is left alone: its row of segments and the tablet's key would be given up.
    """
    if _is_sound(folder):
        raise NothingToSalvage(str(folder / DATABASE))
    return salvage(folder / DATABASE)


def _is_sound(folder: Path) -> bool:
    try:
        with opened(folder) as store:
            store.check()
    except (DatabaseSetAside, DatabaseDamaged, BrokenSegment):
        return False
    return True


def _checked(folder: Path) -> Database:
    with ExitStack() as if_it_fails:
        database = Database(folder / DATABASE)
        if_it_fails.callback(database.close)
        try:
            _make_ready(database, folder / MARKER)
        except OSError as error:
            raise disk_trouble(error, folder) from error
        if_it_fails.pop_all()
    return database


def _make_ready(database: Database, marker: Path) -> None:
    marker.parent.mkdir(parents=True, exist_ok=True)
    cut_short = interrupted(database.path)
    if cut_short:
        raise cut_short
    held_one = marker.exists()
    if held_one and not database.path.exists():
        raise DatabaseGone(str(database.path), str(marker))
    checkup.quick_check(database)
    if held_one and version_of(database) is None:
        raise DatabaseDamaged(str(database.path), "it is empty")
    upgrade(database)
    if not held_one:
        write_once(marker, _MARKER_TEXT)
