"""An office's database: one file, or one database of a server, alike in all that it holds."""

from contextlib import AbstractContextManager
from typing import Protocol

from sqlalchemy import URL, Connection

from fieldapp.store.transactions import Transactions


def shown(url: URL) -> str:
    """Give an address as anybody may read it: without its password, wherever it stands."""
    return url.difference_update_query(["password"]).render_as_string(hide_password=True)


class OfficeDatabase(Transactions, Protocol):
    """What an office's database can besides being written and read."""

    def is_there(self) -> bool:
        """Whether it was made already; a server's database always was."""

    def taking_in(self) -> AbstractContextManager[Transactions]:
        """Give what a collator takes entries in with, quicker than others may write."""

    def migrating(self) -> AbstractContextManager[Connection]:
        """Open a transaction that may make and change tables, alone."""

    def refuse_unfit(self) -> None:
        """Refuse what no office's database can be.

        Raises
        ------
        NotOffice
            It is another program's, a tablet's, or can't keep every text.
        """

    def close(self) -> None:
        """Let go of it."""
