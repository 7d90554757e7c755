"""Files that are either whole or not there, on disks, sticks and shares alike."""

import contextlib
import errno
import os
import secrets
import time
from dataclasses import dataclass
from pathlib import Path

from schemas.trouble import DiskTrouble

_FULL = frozenset({errno.ENOSPC, errno.EDQUOT})
HELD_OPEN = frozenset({5, 32, 33})
"""Windows: access denied, sharing violation, lock violation: a scanner holds the file."""
WAITS_S = tuple(0.02 * 2**n for n in range(8))
"""So long whoever is held off by a scanner waits before each further try; 5 s in all."""
_CAN_NOT_SYNC = frozenset({errno.EINVAL, errno.ENOTSUP, errno.EBADF, errno.EACCES, errno.EPERM})
"""A folder can't be opened or synced at all: Windows, several shares."""
TRIES = 3
"""A disk that fails so often is not asked again."""
WRITTEN_AT_ONCE = 1024 * 1024
"""Given 4 MB in one call, Linux looks for memory of that size first: seven times as slow."""


@dataclass(eq=False)
class DiskFull(DiskTrouble):
    """There is no room left."""

    place: str
    happened = "There is no room left on the disk that holds {place}."
    kept = "Everything that was shown as kept is still there; the last step was not taken."
    do_next = "Free some space, then take the last step again."


@dataclass(eq=False)
class DiskFailed(DiskTrouble):
    """The disk refused a step for another reason."""

    place: str
    reason: str
    happened = "The disk did not do what was asked for {place}: {reason}."
    kept = "Everything that was shown as kept was on the disk before."
    do_next = "Check the disk and its permissions, then start the program again."


def disk_trouble(error: OSError, place: Path) -> DiskTrouble:
    """Say what an error of the operating system means to a person."""
    if error.errno in _FULL:
        return DiskFull(str(place))
    return DiskFailed(str(place), error.strerror or type(error).__name__)


def write_once(path: Path, content: bytes) -> None:
    """Write a new file so that no reader ever meets half of it.

    A temporary file in the same folder, its size checked, on the disk, then renamed: hard
    links are not asked for, many sticks and shares have none. Written again with the same
    content it is left as it is, so whoever was killed half-way simply starts over. One
    writer a name is taken for granted.

    Raises
    ------
    FileExistsError
        Something else of that name is there already; it is left as it was.
    OSError
        The disk is full, read-only, failing or gone; if there is a file of that name, it is whole.
    """
    if not path.exists():
        replace_file(path, content)
    elif path.read_bytes() == content:
        sync_folder(path.parent)
    else:
        raise FileExistsError(errno.EEXIST, "another file has that name", str(path))


def replace_file(path: Path, content: bytes) -> None:
    """Write a file in place of an older one: after a power cut one of the two is there, whole.

    For a tablet's own small files (settings). On a share only what is torn is replaced.

    After an error of the disk itself everything is written anew: what was not synced counts as
    clean from then on, and to sync the same file again would succeed and mean nothing.

    Raises
    ------
    OSError
        The disk is full, read-only, failing or gone; one of the two is there, whole.
    """
    for left in reversed(range(TRIES)):
        try:
            _put(path, content)
            sync_folder(path.parent)
        except OSError as error:
            if error.errno != errno.EIO or not left:
                raise
        else:
            return


def sync_folder(folder: Path) -> None:
    """Make the names in a folder durable, where the system offers that.

    Windows can't open a folder; several shares refuse to sync one. Neither means that the
    file is not there. Any other error is one of the disk: the names may not last.

    Raises
    ------
    OSError
        The disk is failing or gone.
    """
    try:
        descriptor = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(descriptor)
        finally:
            os.close(descriptor)
    except OSError as error:
        if error.errno not in _CAN_NOT_SYNC:
            raise


def _put(path: Path, content: bytes) -> None:
    part = path.with_name(f"t-{secrets.token_hex(8)}.tmp")
    try:
        _write_through(part, content)
        try:
            _rename(part, path)
        except OSError:
            # A network file system may lose the answer to a rename that it did.
            if not (path.exists() and path.read_bytes() == content):
                raise
    finally:
        with contextlib.suppress(OSError):
            part.unlink(missing_ok=True)


def _write_through(part: Path, content: bytes) -> None:
    with part.open("xb") as file:
        for start in range(0, len(content), WRITTEN_AT_ONCE):
            file.write(memoryview(content)[start : start + WRITTEN_AT_ONCE])
        file.flush()
        if os.fstat(file.fileno()).st_size != len(content):
            raise OSError(errno.ENOSPC, "fewer bytes were written than asked", str(part))
        os.fsync(file.fileno())


def _rename(part: Path, path: Path) -> None:
    for wait_s in (*WAITS_S, None):
        try:
            os.replace(part, path)  # noqa: PTH105 - the same call on every system
        except OSError as error:
            if getattr(error, "winerror", None) not in HELD_OPEN or wait_s is None:
                raise
            time.sleep(wait_s)
        else:
            return
