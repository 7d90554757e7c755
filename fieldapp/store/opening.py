"""Opens the store of a folder: looks at it first, and keeps a copy of it when it is damaged."""

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
from fieldapp.store.high_mark import HighMarks
from fieldapp.store.holdings import SqlHoldings
from fieldapp.store.home import DATABASE, MARKER, MARKER_TEXT, put_in_place
from fieldapp.store.kept_trust import KeptTrust
from fieldapp.store.keys import Keys
from fieldapp.store.ledger import SqlLedger
from fieldapp.store.photo_shelf import FilePhotoShelf
from fieldapp.store.rescue import set_aside
from fieldapp.store.sealing import Sealing
from fieldapp.store.troubles import DatabaseDamaged, DatabaseGone
from fieldapp.store.upgrade import upgrade, version_of
from fieldapp.store.wholeness import Wholeness
from sync.durable import disk_trouble, write_once

__all__ = ["DATABASE", "MARKER", "assembled", "opened"]

Now = Callable[[], datetime]


def opened(folder: Path, now: Now | None = None) -> Store:
    """Open the store in a folder (see `fieldapp.store.open_store`)."""
    clock = now or partial(datetime.now, UTC)
    try:
        store = assembled(_checked(folder, clock), folder, clock)
        with ExitStack() as if_it_fails:
            if_it_fails.callback(store.close)
            store.wholeness.begin()
            if_it_fails.pop_all()
    except DatabaseDamaged as damage:
        raise set_aside(damage) from damage
    return store


def assembled(database: Database, folder: Path, now: Now) -> Store:
    """Put a store together on a database that is ready."""
    keys = Keys(database, os.urandom)
    marks = HighMarks(database, keys)
    sealing = Sealing(database, keys, marks)
    trust = KeptTrust(database.place)
    ledger = SqlLedger(database, trust)
    holdings = SqlHoldings(database, keys, sealing, trust, now=now, random_bytes=os.urandom)
    return Store(
        folder=folder,
        database=database,
        ledger=ledger,
        drafts=Drafts(database),
        keys=keys,
        sealing=sealing,
        gathered=Gathered(database),
        holdings=holdings,
        wholeness=Wholeness(database, ledger, sealing, holdings, marks, os.urandom),
        photos=FilePhotoShelf(folder, database, ledger, keys, now=now, random_bytes=os.urandom),
        now=now,
    )


def _checked(folder: Path, now: Now) -> Database:
    with ExitStack() as if_it_fails:
        database = Database(folder / DATABASE)
        if_it_fails.callback(database.close)
        try:
            _make_ready(database, folder / MARKER, now)
        except OSError as error:
            raise disk_trouble(error, folder) from error
        if_it_fails.pop_all()
    return database


def _make_ready(database: Database, marker: Path, now: Now) -> None:
    marker.parent.mkdir(parents=True, exist_ok=True)
    put_in_place(marker.parent)
    held_one = marker.exists()
    if held_one and not database.path.exists():
        raise DatabaseGone(str(database.path), str(marker))
    checkup.quick_check(database)
    if held_one and version_of(database) is None:
        raise DatabaseDamaged(str(database.path), "it is empty")
    upgrade(database, now)
    if not held_one:
        write_once(marker, MARKER_TEXT)
