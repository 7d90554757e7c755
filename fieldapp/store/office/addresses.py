"""From the address that a person types to the database that it names."""

import re
from importlib.util import find_spec
from pathlib import Path

from sqlalchemy import URL, make_url
from sqlalchemy.exc import ArgumentError

from fieldapp.store.office.database import OfficeDatabase, shown
from fieldapp.store.office.troubles import DatabasePartMissing, UnknownDatabase
from fieldapp.store.place import refuse_unfit_place

_SECRET = re.compile(r"(://|^)(?![\w+]+://).*(?=@)|(password=)[^&]*")
DRIVERS = {"postgresql": "postgresql+psycopg", "postgres": "postgresql+psycopg"}
"""How an address is meant that doesn't say which driver speaks to the server."""


def database_at(address: str) -> OfficeDatabase:
    """Give the database that a person names; it need not be made yet.

    Raises
    ------
    UnknownDatabase
        It is no address, or one of a kind that is not known here.
    DatabasePartMissing
        What speaks to PostgreSQL is not installed.
    PlaceRefused
        A file would lie on a share or a stick.
    """
    try:
        url = make_url(address)
    except (ArgumentError, ValueError) as error:  # the second for a port that is no number
        raise UnknownDatabase(_SECRET.sub(r"\1\2***", address), "it is no address") from error
    url = url.set(drivername=DRIVERS.get(url.drivername, url.drivername))
    if url.drivername == "sqlite":
        return _file(url)
    if url.drivername == "postgresql+psycopg":
        return _server(url)
    raise UnknownDatabase(shown(url), "only SQLite and PostgreSQL are known")


def _file(url: URL) -> OfficeDatabase:
    from fieldapp.store.office.file import OfficeFile

    if not url.database or url.database == ":memory:":
        raise UnknownDatabase(str(url), "it names no file")
    path = Path(url.database).absolute()
    if not path.parent.is_dir():
        raise UnknownDatabase(str(url), f"there is no folder {path.parent}")
    refuse_unfit_place(path.parent)
    return OfficeFile(path)


def _server(url: URL) -> OfficeDatabase:
    if "@" in f"{url.host}{url.database}":  # some of the password is taken for the server
        reason = "an @ or / in its password is written as %40 or %2F"
        raise UnknownDatabase(f"{url.drivername}://{url.username}:***", reason)
    if find_spec("psycopg") is None:
        raise DatabasePartMissing(shown(url))
    from fieldapp.store.office.postgres import PostgresDatabase

    return PostgresDatabase(url)
