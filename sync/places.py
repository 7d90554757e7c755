"""Where a shared folder can be: what a person names becomes a folder that the exchange runs on.

A folder that is not there now is opened all the same: a stick comes and goes, and each call
tells of it.
"""

import os
from collections.abc import Callable
from dataclasses import dataclass
from importlib.util import find_spec
from pathlib import Path
from urllib.parse import urlsplit
from urllib.request import url2pathname

from schemas.trouble import BadInput, NotAllowed
from sync.folder import Folder
from sync.local_folder import LocalFolder
from sync.names import LONGEST
from sync.smb_place import SMB, SmbPlace

LONGEST_PATH = 259
"""Windows takes no longer one unless told to (MAX_PATH, less the zero that ends it)."""
LONGEST_PLACE = LONGEST_PATH - len("/") - LONGEST

FILE = "file://"
Password = Callable[[str], str]
"""Gives the password for a place, from wherever a person keeps it; never from the place."""


@dataclass(eq=False)
class PlaceTooLong(BadInput):
    """Our own names would not fit below a folder on every machine."""

    place: str
    length: int
    longest: int = LONGEST_PLACE
    happened = (
        "The path {place} has {length} characters, and at most {longest} leave room "
        "for the names below it on every system."
    )
    kept = "Nothing was written there."
    do_next = "Move the shared folder up, or give it a shorter name, and name it again."


@dataclass(eq=False)
class UnknownPlace(BadInput):
    """Nothing here knows how to reach such a place."""

    place: str
    happened = '"{place}" is no folder that this program can reach.'
    kept = "Nothing was written anywhere."
    do_next = "Name a folder as the system shows it, smb://user@server/share/folder, or a URL."


@dataclass(eq=False)
class PasswordInPlace(BadInput):
    """A password stands where everybody can read it."""

    happened = "The address of the shared folder has a password in it."
    kept = "Nothing was written anywhere, and the password was not kept."
    do_next = "Leave it out: it is asked for, or taken from LASTROW_SHARE_PASSWORD."


@dataclass(eq=False)
class PasswordWanted(NotAllowed):
    """Nobody gave the password for a share."""

    place: str
    happened = "The server of the shared folder {place} asks for a password."
    kept = "Everything is kept on this tablet and waits."
    do_next = (
        "Share on the Share folder screen or from a terminal and type it there, "
        "or set LASTROW_SHARE_PASSWORD."
    )


@dataclass(eq=False)
class PartMissing(NotAllowed):
    """What reaches such a place was not installed."""

    place: str
    extra: str
    happened = "Sharing with {place} needs a part that is not installed here."
    kept = "Everything is kept on this tablet and waits."
    do_next = 'Install it with pip install "lastrow[{extra}]", then share again.'


@dataclass(eq=False)
class DriverMissing(NotAllowed):
    """The driver for such an address was not installed."""

    place: str
    reason: str
    happened = "Sharing with {place} needs a driver that is not installed here: {reason}."
    kept = "Everything is kept on this tablet and waits."
    do_next = "Install it beside this program, then share again."


@dataclass(eq=False)
class ShowsHalfFiles(BadInput):
    """Others would meet half of a file while it is written there."""

    place: str
    happened = "{place} can neither keep a file back until it is whole nor rename one."
    kept = "Nothing was written there."
    do_next = "Share by a folder, a server for files or an object store."


def nobody_knows(place: str) -> str:
    """Give no password: for whoever has nobody to ask."""
    raise PasswordWanted(place)


def open_folder(place: str, *, password: Password = nobody_knows) -> Folder:
    """Give the shared folder that a person names.

    Parameters
    ----------
    place : str
        A directory, relative to where the program was started or not;
        `smb://user@server/share/folder` for a server that is not mounted; or any address that
        a driver of fsspec reaches, such as `s3://bucket/folder`.
    password : callable
        Asked for the password where a user is named.

    Raises
    ------
    PlaceTooLong
        Its path leaves too little room for our names, if not here then on another machine.
    UnknownPlace, PasswordInPlace, ShowsHalfFiles
        It is nothing that this program can reach, or should.
    PartMissing, DriverMissing, PasswordWanted
        It could be reached, were that given.
    """
    if not place.strip() or "\0" in place:
        raise UnknownPlace(place)
    if "://" in place and _has_password(place):
        raise PasswordInPlace
    if place.startswith(SMB):
        return _smb(place, password)
    if place.startswith(FILE):
        return _directory(url2pathname(urlsplit(place).path))
    return _by_driver(place) if "://" in place else _directory(place)


def _directory(place: str) -> Folder:
    directory = os.path.abspath(place)  # noqa: PTH100 - `..` counts towards no length
    _refuse_long(directory)
    return LocalFolder(Path(directory))


def _refuse_long(path: str) -> None:
    if len(path) > LONGEST_PLACE:
        raise PlaceTooLong(path, len(path))


def _has_password(place: str) -> bool:
    try:
        return urlsplit(place).password is not None
    except ValueError:
        return False


def _smb(place: str, password: Password) -> Folder:
    where = SmbPlace.read(place)
    if where is None:
        raise UnknownPlace(place)
    _refuse_long(where.below())
    if not find_spec("smbclient"):
        raise PartMissing(place, "smb")
    from sync.smb_folder import SmbFolder

    return SmbFolder(where, password(str(where)) if where.user else None)


def _by_driver(place: str) -> Folder:
    if "::" in place:  # fsspec's chains: a copy kept in between would be taken for the share
        raise UnknownPlace(place)
    _refuse_long(place)
    if not find_spec("fsspec"):
        raise PartMissing(place, "fsspec")
    from sync.fsspec_folder import FsspecFolder, keeps_files_whole

    try:
        keeps_whole = keeps_files_whole(place.partition("://")[0])
    except ValueError as error:
        raise UnknownPlace(place) from error
    except ImportError as error:
        raise DriverMissing(place, str(error)) from error
    if not keeps_whole:
        raise ShowsHalfFiles(place)
    return FsspecFolder(place)
