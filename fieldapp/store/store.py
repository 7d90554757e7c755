"""The store of one tablet: opened once, by `fieldapp.start`, and handed to what needs it."""

import os
from contextlib import ExitStack
from dataclasses import dataclass
from pathlib import Path
from types import TracebackType
from typing import Self

from fieldapp.store import checkup
from fieldapp.store.drafts import Drafts
from fieldapp.store.engine import Database
from fieldapp.store.keys import Keys
from fieldapp.store.ledger import SqlLedger
from fieldapp.store.rescue import Rescued, interrupted, salvage, set_aside
from fieldapp.store.sealing import Sealing
from fieldapp.store.troubles import DatabaseDamaged, DatabaseGone
from fieldapp.store.upgrade import upgrade, version_of
from sync.durable import disk_trouble, write_once

DATABASE = "lastrow.db"
MARKER = "lastrow.here"
_MARKER_TEXT = b"Lastrow keeps its database in this folder. If it is missing, it was lost.\n"


@dataclass(frozen=True)
class Store:
    """What is kept on this tablet."""

    folder: Path
    database: Database
    ledger: SqlLedger
    drafts: Drafts
    keys: Keys
    sealing: Sealing

    def check(self) -> checkup.Checkup:
        """Check everything that is kept; raises what is wrong (see `checkup.check`)."""
        return checkup.check(self.database, self.ledger, self.sealing)

    def close(self) -> None:
        """Let go of the files."""
        self.database.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        _kind: type[BaseException] | None,
        _error: BaseException | None,
        _trace: TracebackType | None,
    ) -> None:
        self.close()


def open_store(folder: Path) -> Store:
    """Open the store in a folder, made new if the folder never held one.

    Raises
    ------
    DatabaseSetAside
        The database is damaged; a copy is kept and it tells how much can be read.
    DatabaseGone
        There was a database here, and now there is none.
    DatabaseNewer, NotOurDatabase
        It is not for this program.
    DiskTrouble
        The disk is full, read-only or gone.
    """
    try:
        database = _opened(folder)
    except DatabaseDamaged as damage:
        raise set_aside(damage) from damage
    keys = Keys(database, os.urandom)
    return Store(
        folder=folder,
        database=database,
        ledger=SqlLedger(database),
        drafts=Drafts(database),
        keys=keys,
        sealing=Sealing(database, keys),
    )


def salvage_store(folder: Path) -> Rescued:
    """Replace a damaged database by a new one that holds what can be read of it."""
    return salvage(folder / DATABASE)


def _opened(folder: Path) -> Database:
    with ExitStack() as if_it_fails:
        database = Database(folder / DATABASE)
        if_it_fails.callback(database.close)
        _make_ready(folder, database)
        if_it_fails.pop_all()
    return database


def _make_ready(folder: Path, database: Database) -> None:
    marker = folder / MARKER
    try:
        folder.mkdir(parents=True, exist_ok=True)
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
    except OSError as error:
        raise disk_trouble(error, folder) from error
