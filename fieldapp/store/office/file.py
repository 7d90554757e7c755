"""An office's database in one SQLite file.

While entries are taken in, the file belongs to one collator alone. Its log is written ahead
then, and not pressed onto the disk with every commit: a power cut takes the last commits away
as a whole, and the next collation takes their entries in again. One connection alone can't
meet the fault for which others forgo that log (`journal_for`). Whoever else comes waits.
"""

import secrets
import sqlite3
import time
from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from pathlib import Path
from typing import Final

from sqlalchemy import Connection, StaticPool, create_engine, text

from fieldapp.store.engine import Database
from fieldapp.store.journal import Journal, pragmas
from fieldapp.store.office.database import OfficeDatabase
from fieldapp.store.office.office_ledger import of_an_office
from fieldapp.store.office.troubles import NotOffice, OfficeDamaged
from fieldapp.store.transactions import Transactions
from fieldapp.store.troubles import told

APPLICATION_ID = 0x4C526F66
"""The letters "LRof" in the database's header: the file is an office's."""
WAITS_FOR_OTHERS_MS = 600_000
COMES_AGAIN_AFTER_S: Final = (0.02, 0.2)
"""Drawn between these, so that two do not meet again and again."""

_ALONE = Journal("wal", "NORMAL")
_IN_MEMORY_KIB = 256 * 1024
_BEFORE_IT_IS_COPIED_PAGES = 16_384
WHILE_ALONE: Final = (
    "PRAGMA locking_mode = EXCLUSIVE",
    *pragmas(_ALONE, WAITS_FOR_OTHERS_MS),
    f"PRAGMA cache_size = -{_IN_MEMORY_KIB}",
    f"PRAGMA wal_autocheckpoint = {_BEFORE_IT_IS_COPIED_PAGES}",
)
"""The settings of the one connection through which entries are taken in."""


class OfficeFile(Database, OfficeDatabase):
    """One file, shared with others but while entries are taken in."""

    damaged = OfficeDamaged

    def __init__(self, path: Path) -> None:
        super().__init__(path, waits_ms=WAITS_FOR_OTHERS_MS)
        for engine in (self._write_engine, self._read_engine):
            of_an_office(engine)

    def is_there(self) -> bool:
        """Whether there is such a file."""
        return self.path.exists()

    @contextmanager
    def taking_in(self) -> Iterator[Transactions]:
        """Give what a collator takes entries in with; nobody else reads meanwhile."""
        alone = _Alone(self.path)
        try:
            yield alone
        finally:
            alone.close(self.journal)

    def refuse_unfit(self) -> None:
        """Refuse a file that is somebody else's.

        Raises
        ------
        NotOffice
            Another program made it, or it is a tablet's.
        """
        with self.reading() as connection:
            tables = connection.execute(text("SELECT count(*) FROM sqlite_master")).scalar_one()
            whose = connection.execute(text("PRAGMA application_id")).scalar_one()
        if tables and whose != APPLICATION_ID:
            raise NotOffice(self.place, "it holds another program's tables, or a tablet's")


class _Alone(Transactions):
    """The file through one connection that keeps everybody else out."""

    def __init__(self, path: Path) -> None:
        self._path = path
        self._engine = create_engine(
            "sqlite://", creator=partial(_connected, path), poolclass=StaticPool
        )
        of_an_office(self._engine)

    @property
    def place(self) -> str:
        return str(self._path)

    @contextmanager
    def writing(self) -> Iterator[Connection]:
        with self._transaction("BEGIN IMMEDIATE") as connection:
            yield connection

    @contextmanager
    def reading(self) -> Iterator[Connection]:
        with self._transaction("BEGIN") as connection:
            yield connection

    def close(self, journal: Journal) -> None:
        """Leave the file as others open it."""
        with told(self._path, OfficeDamaged), self._engine.connect() as connection:
            connection.exec_driver_sql(f"PRAGMA journal_mode = {journal.mode}")
        self._engine.dispose()

    @contextmanager
    def _transaction(self, begin: str) -> Iterator[Connection]:
        with told(self._path, OfficeDamaged), self._engine.begin() as connection:
            connection.exec_driver_sql(begin)
            yield connection


def _connected(path: Path) -> sqlite3.Connection:
    """Connect so that everybody else is kept out; who comes while another is inside waits.

    Two that begin at the same moment have both read the file's head, and neither can have it
    alone: SQLite refuses one of them at once, however long it would wait. That one lets go and
    comes again.
    """
    last_try = time.monotonic() + WAITS_FOR_OTHERS_MS / 1000
    while True:
        driver = sqlite3.connect(path, isolation_level=None, check_same_thread=False)
        try:
            for setting in WHILE_ALONE:
                driver.execute(setting).fetchall()
            driver.execute("BEGIN EXCLUSIVE")
            driver.execute("COMMIT")
        except sqlite3.OperationalError as error:
            driver.close()
            if error.sqlite_errorcode != sqlite3.SQLITE_BUSY or time.monotonic() > last_try:
                raise
            time.sleep(secrets.SystemRandom().uniform(*COMES_AGAIN_AFTER_S))
        else:
            return driver
