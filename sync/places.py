"""Where a shared folder can be: what a person names becomes a folder that the exchange runs on.

A folder that is not there now is opened all the same: a stick comes and goes, and each call
tells of it.
"""

import os
from dataclasses import dataclass
from pathlib import Path

from schemas.trouble import BadInput
from sync.folder import Folder
from sync.local_folder import LocalFolder
from sync.names import LONGEST

LONGEST_PATH = 259
"""Windows takes no longer one unless told to (MAX_PATH, less the zero that ends it)."""
LONGEST_PLACE = LONGEST_PATH - len("/") - LONGEST


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
    do_next = "Name a folder as the system shows it: a mounted share, a stick, a cloud's folder."


def open_folder(place: str) -> Folder:
    """Give the shared folder that a person names.

    Parameters
    ----------
    place : str
        A directory, relative to where the program was started or not.

    Raises
    ------
    PlaceTooLong
        Its path leaves too little room for our names, if not here then on another machine.
    UnknownPlace
        It is nothing that this program can reach.
    """
    if not place.strip() or "://" in place or "\0" in place:
        raise UnknownPlace(place)
    directory = Path(os.path.abspath(place))  # noqa: PTH100 - `..` counts towards no length
    if len(str(directory)) > LONGEST_PLACE:
        raise PlaceTooLong(str(directory), len(str(directory)))
    return LocalFolder(directory)
