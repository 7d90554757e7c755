"""What the parts of the store need of a database, be it a tablet's file or an office's server."""

from contextlib import AbstractContextManager
from typing import Protocol

from sqlalchemy import Connection


class Transactions(Protocol):
    """A database, one transaction at a time."""

    @property
    def place(self) -> str:
        """Where it is, as it is told to people."""

    def writing(self) -> AbstractContextManager[Connection]:
        """Open a transaction that writes, alone; kept once the block is left without an error."""

    def reading(self) -> AbstractContextManager[Connection]:
        """Open a transaction that sees one state of the database and can't change it."""
