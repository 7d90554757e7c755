"""What the exchange needs of a shared folder: a handful of calls that any share can keep.

Paths are relative to the root `lastrow1/`, with `/` between. Nothing is ever overwritten,
appended to, locked or moved; what a call tells is believed only as far as bytes hash to names.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Protocol

from schemas.trouble import DiskTrouble


@dataclass(frozen=True)
class Listed:
    """One name in a folder, as a listing had it: it may be old, and may leave others out."""

    name: str
    size: int


class NotThere(Exception):
    """There is nothing of that name, or not yet: a listing may be older than the file."""


class NotYet(Exception):
    """It is there and can't be read now: held by a scanner, or not brought down from the cloud."""


@dataclass(eq=False)
class ShareGone(DiskTrouble):
    """The shared folder can't be reached."""

    place: str
    reason: str
    happened = "The shared folder {place} can't be reached: {reason}."
    kept = "Everything is kept on this tablet and waits."
    do_next = "Go on working; share again when the folder is there."


@dataclass(eq=False)
class ShareFull(DiskTrouble):
    """There is no room on the share."""

    place: str
    happened = "There is no room left in the shared folder {place}."
    kept = "Everything is kept on this tablet and waits; nothing in the folder was damaged."
    do_next = "Make room on the share, then share again."


@dataclass(eq=False)
class ShareReadOnly(DiskTrouble):
    """A folder of the share can't be written."""

    place: str
    happened = "This tablet may not write in {place}."
    kept = "What others sent was read; what this tablet has to send waits here."
    do_next = "Ask whoever looks after the share for the right to write there."


@dataclass(eq=False)
class ShareFails(DiskTrouble):
    """What holds the share did not keep what was written, time and again."""

    place: str
    happened = "The disk or stick of the shared folder {place} fails: it kept nothing."
    kept = "Everything is kept on this tablet and waits."
    do_next = "Have it looked at, or use another one, then share again."


class Folder(Protocol):
    """A shared folder, wherever it is: mounted, on a stick, over the network, simulated."""

    place: str
    """For people: where it is."""

    def listing(self, path: str) -> Iterable[Listed]:
        """Give the names in a folder; none where there is no such folder.

        Raises
        ------
        ShareGone
            The share itself is not there.
        """

    def read(self, path: str, *, at_most: int) -> bytes:
        """Give a file's bytes; a larger one is cut after `at_most` + 1.

        Raises
        ------
        NotThere
            There is no such file, as far as can be seen.
        NotYet
            It is there and can't be read now.
        ShareGone
            The share itself is not there.
        """

    def put(self, path: str, content: bytes) -> None:
        """Write a file so that no reader ever meets half of it under its name.

        A file in its place that holds these bytes is success; one that holds others is torn,
        since names carry the hash of their bytes, and goes. Folders are made. It may be lost
        all the same: only another machine's word says that it arrived.

        Raises
        ------
        NotYet
            Something stands in the way for now; try it with the next exchange.
        ShareFull, ShareReadOnly, ShareFails, ShareGone
            No more can be written, here or at all.
        """

    def remove(self, path: str) -> None:
        """Take away a file that this tablet wrote under a name of its own; gone is gone."""
