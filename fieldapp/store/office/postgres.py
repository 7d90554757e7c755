"""An office's database on a PostgreSQL server.

Whoever writes holds one lock until the commit: several collators write in turns, a transaction
each, and places in the ledger follow the order of the commits.
"""

from collections.abc import Iterator
from contextlib import AbstractContextManager, contextmanager

from sqlalchemy import URL, Connection, create_engine, text

from fieldapp.store.office.database import OfficeDatabase, shown
from fieldapp.store.office.office_ledger import of_an_office
from fieldapp.store.office.troubles import NotOffice, told
from fieldapp.store.transactions import Transactions

LOCK = 0x4C526F66
"""The number of the lock: the letters "LRof"."""
WAITS_FOR_OTHERS_MS = 600_000
CONNECTS_WITHIN_S = 10

_LOCK = text(f"SELECT pg_advisory_xact_lock({LOCK})")
_ENCODING = text("SHOW server_encoding")


class PostgresDatabase(OfficeDatabase):
    """One database of a server, in the schema that its user writes into."""

    def __init__(self, url: URL) -> None:
        self._place = shown(url)
        asked = {
            "connect_timeout": CONNECTS_WITHIN_S,
            "application_name": "lastrow",
            "client_encoding": "utf8",  # a server that keeps any bytes would give no texts
            "options": f"-c lock_timeout={WAITS_FOR_OTHERS_MS}",
        }
        self._write_engine = create_engine(url, connect_args=asked)
        one_state = "REPEATABLE READ"
        self._read_engine = create_engine(url, connect_args=asked, isolation_level=one_state)
        for engine in (self._write_engine, self._read_engine):
            of_an_office(engine)

    @property
    def place(self) -> str:
        """Where it is, without its password."""
        return self._place

    @contextmanager
    def writing(self) -> Iterator[Connection]:
        """Open a transaction that writes, alone; durable once it is left without an error."""
        with told(self.place), self._write_engine.begin() as connection:
            connection.execute(_LOCK)
            yield connection

    @contextmanager
    def reading(self) -> Iterator[Connection]:
        """Open a transaction that sees one state of the database and can't change it."""
        with told(self.place), self._read_engine.connect() as connection:
            connection.execution_options(postgresql_readonly=True)
            with connection.begin():
                yield connection

    def is_there(self) -> bool:
        """Say yes: a server's database is made by whoever looks after the server."""
        return True

    @contextmanager
    def taking_in(self) -> Iterator[Transactions]:
        """Give what a collator takes entries in with: others read and write beside it."""
        yield self

    def migrating(self) -> AbstractContextManager[Connection]:
        """Open a transaction that may make and change tables, alone."""
        return self.writing()

    def refuse_unfit(self) -> None:
        """Refuse a database that can't keep every text.

        Raises
        ------
        NotOffice
            It was made for one alphabet.
        """
        with self.reading() as connection:
            encoding = connection.execute(_ENCODING).scalar_one()
        if encoding != "UTF8":
            raise NotOffice(self.place, f"it keeps texts as {encoding}, not as UTF8")

    def close(self) -> None:
        """Let go of the server."""
        self._write_engine.dispose()
        self._read_engine.dispose()
