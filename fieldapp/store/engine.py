"""One SQLite file: one connection that writes, several that only read.

A commit that returned is on the disk. A step that failed changed nothing, and its connection
is given up: after a failed sync nobody knows what the system still holds in memory, so the
next step starts from what is on the disk.
"""

import sqlite3
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any, ClassVar

from sqlalchemy import URL, Connection, Engine, create_engine, event
from sqlalchemy.exc import DBAPIError

from fieldapp.store.journal import BUSY_TIMEOUT_MS, Journal, journal_for, pragmas
from fieldapp.store.transactions import Transactions
from fieldapp.store.troubles import DatabaseDamaged, told

MOST_READERS = 4


class Database(Transactions):
    """The writer and the readers of one file. Safe to use from several threads.

    Writers wait for each other. Reads are meant to be short: while one runs, no commit gets
    through under the rollback journal.
    """

    damaged: ClassVar[type[DatabaseDamaged]] = DatabaseDamaged
    """What is told of a file that holds what nobody wrote into it."""

    def __init__(
        self, path: Path, journal: Journal | None = None, *, waits_ms: int = BUSY_TIMEOUT_MS
    ) -> None:
        self.path = path
        self.journal = journal or journal_for(sqlite3.sqlite_version_info)
        self._settings = pragmas(self.journal, waits_ms)
        self._write_engine = _engine(path, self._settings, "BEGIN IMMEDIATE")
        self._read_engine = _engine(path, (*self._settings, _READ_ONLY), "BEGIN")
        self._lock = threading.RLock()
        self._writer: Connection | None = None

    @property
    def place(self) -> str:
        """Where the file lies."""
        return str(self.path)

    @contextmanager
    def writing(self) -> Iterator[Connection]:
        """Open a transaction that writes; durable once the block is left without an error."""
        with self._lock, told(self.path, self.damaged):
            try:
                writer = self._writer = self._writer or self._write_engine.connect()
                with writer.begin():
                    yield writer
            except DBAPIError:
                self._give_up_writer()
                raise

    @contextmanager
    def reading(self) -> Iterator[Connection]:
        """Open a transaction that sees one state of the database and can't change it."""
        with told(self.path, self.damaged), self._read_engine.connect() as reader, reader.begin():
            yield reader

    @contextmanager
    def migrating(self, *settings: str) -> Iterator[Connection]:
        """Open a transaction that may rebuild tables that others refer to."""
        loose = (*settings, *self._settings, "PRAGMA foreign_keys = OFF")
        engine = _engine(self.path, loose, "BEGIN IMMEDIATE")
        try:
            with self._lock, told(self.path, self.damaged), engine.begin() as connection:
                yield connection
        finally:
            engine.dispose()

    def close(self) -> None:
        """Let go of the file."""
        with self._lock:
            self._give_up_writer()
            self._write_engine.dispose()
            self._read_engine.dispose()

    def _give_up_writer(self) -> None:
        if self._writer is not None:
            self._writer.invalidate()
            self._writer.close()
            self._writer = None


_READ_ONLY = "PRAGMA query_only = ON"


def _engine(path: Path, settings: tuple[str, ...], begin: str) -> Engine:
    url = URL.create("sqlite", database=str(path))
    engine = create_engine(url, pool_size=MOST_READERS, max_overflow=0)

    @event.listens_for(engine, "connect")
    def _set_up(driver: Any, _record: object) -> None:
        # The driver must not begin by itself: it would leave SELECT and DDL outside.
        driver.isolation_level = None
        for setting in settings:
            driver.execute(setting).fetchall()

    @event.listens_for(engine, "begin")
    def _begin(connection: Connection) -> None:
        connection.exec_driver_sql(begin)

    return engine
