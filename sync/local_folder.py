"""A shared folder that the system shows as a directory: a mount, a stick, a cloud client's."""

import contextlib
import errno
import os
from collections.abc import Iterable, Iterator
from pathlib import Path

from sync.durable import HELD_OPEN, replace_file, sync_folder
from sync.folder import (
    Folder,
    Listed,
    NotThere,
    NotYet,
    ShareFails,
    ShareFull,
    ShareGone,
    ShareReadOnly,
)
from sync.names import ROOT, STORE

_FULL = frozenset({errno.ENOSPC, errno.EDQUOT})
_MAY_NOT = frozenset({errno.EROFS, errno.EACCES, errno.EPERM})
_NOT_YET = frozenset(
    {errno.EINVAL, errno.EBUSY, errno.ETXTBSY, errno.EIO, errno.ETIMEDOUT, errno.EFBIG}
)
"""One file can't be read or written for now; others can."""
_NOT_BROUGHT_DOWN = frozenset({362, 389, 395, 404}) | HELD_OPEN
"""Windows: the cloud's client is not running, or keeps the file for later; a scanner has it."""


class LocalFolder(Folder):
    """A directory that holds `lastrow1/`.

    Parameters
    ----------
    place : Path
        The directory that was shared; `lastrow1/` in it is ours, all else is not.
    """

    def __init__(self, place: Path) -> None:
        self.place = str(place)
        self._root = place / ROOT

    def listing(self, path: str) -> Iterable[Listed]:
        """Give the names in a folder, those of files that go meanwhile left out."""
        try:
            with os.scandir(self._root / path) as found:
                yield from _listed(found)
        except (FileNotFoundError, NotADirectoryError):
            self._be_there()
        except OSError as error:
            raise self._gone(error) from error

    def read(self, path: str, *, at_most: int) -> bytes:
        """Give a file's bytes."""
        try:
            with (self._root / path).open("rb") as file:
                return file.read(at_most + 1)
        except (FileNotFoundError, NotADirectoryError, IsADirectoryError) as error:
            self._be_there()
            raise NotThere(path) from error
        except OSError as error:
            if _is_not_yet(error) or error.errno in _MAY_NOT:
                raise NotYet(path) from error
            raise self._gone(error) from error

    def put(self, path: str, content: bytes) -> None:
        """Write a new file so that no reader ever meets half of it under its name."""
        target = self._root / path
        with self._told_of(target):
            if _holds(target, content):
                sync_folder(target.parent)
                return
            self._be_there(to_write=path)
            target.parent.mkdir(parents=True, exist_ok=True)
            self._write(target, content)

    def remove(self, path: str) -> None:
        """Take away a file of this tablet's own; gone is gone."""
        with self._told_of(self._root / path), contextlib.suppress(FileNotFoundError):
            (self._root / path).unlink()

    def _write(self, target: Path, content: bytes) -> None:
        try:
            replace_file(target, content)
        except OSError as error:
            if error.errno == errno.EIO:
                raise ShareFails(self.place) from error
            raise

    def _be_there(self, to_write: str = STORE) -> None:
        """Make sure that the share is: an empty mount point looks like an empty share.

        Only `store.json`, which makes a share, is written where there is none.
        """
        there = self._root.parent if to_write == STORE else self._root
        if not there.is_dir():
            raise ShareGone(self.place, "there is no such folder")

    @contextlib.contextmanager
    def _told_of(self, target: Path) -> Iterator[None]:
        try:
            yield
        except OSError as error:
            if error.errno in _FULL:
                raise ShareFull(self.place) from error
            if _is_not_yet(error):
                raise NotYet(str(target)) from error
            if error.errno in _MAY_NOT:
                raise ShareReadOnly(str(target.parent)) from error
            raise self._gone(error) from error

    def _gone(self, error: OSError) -> ShareGone:
        return ShareGone(self.place, error.strerror or type(error).__name__)


def _listed(found: Iterable[os.DirEntry[str]]) -> Iterator[Listed]:
    for entry in found:
        try:
            size = entry.stat(follow_symlinks=False).st_size
        except OSError:
            continue
        yield Listed(entry.name, size)


def _holds(target: Path, content: bytes) -> bool:
    """Whether a file is there as it should be; one that can't be read is left alone."""
    try:
        return target.stat().st_size == len(content) and target.read_bytes() == content
    except (FileNotFoundError, NotADirectoryError):
        return False


def _is_not_yet(error: OSError) -> bool:
    return error.errno in _NOT_YET or getattr(error, "winerror", None) in _NOT_BROUGHT_DOWN
