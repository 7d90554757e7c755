"""Where a database may lie: on this machine's own disk, never on a share, stick or cloud drive.

SQLite's locks are not kept there, and file systems without a journal lose whole folders when
they are unplugged (sqlite.org, "How To Corrupt An SQLite Database File", 2.1).
"""

import os
import sys
from dataclasses import dataclass
from pathlib import Path

from schemas.trouble import BadInput

MOUNTS = Path("/proc/self/mountinfo")

_SHARES = {"cifs", "smb3", "smbfs", "nfs", "nfs4", "afs", "ncpfs", "davfs", "ceph"}
_NO_JOURNAL = {"vfat", "msdos", "exfat", "fat"}
_OF_THIS_MACHINE = {"fuseblk", "fuse.ntfs-3g", "fuse.fuse-overlayfs"}
_WINDOWS_REMOTE_DRIVE = 4  # DRIVE_REMOTE of GetDriveTypeW


@dataclass(eq=False)
class PlaceRefused(BadInput):
    """A database can't be kept safely in a folder."""

    folder: str
    kind: str

    happened = "Records can't be kept in {folder}: it lies on {kind}."
    kept = "Nothing was written there."
    do_next = "Name a folder on this machine's own disk with --home; share from there."


def refuse_unfit_place(folder: Path) -> None:
    """Refuse a folder on a share, a stick or a cloud drive.

    What can't be told, such as a folder that a cloud's client copies away, is let through.

    Raises
    ------
    PlaceRefused
        Names what it lies on.
    """
    kind = unfit(file_system_of(folder))
    if kind:
        raise PlaceRefused(str(folder), kind)


def file_system_of(folder: Path) -> str:
    """Give the kind of file system that a folder lies on; empty where the system won't say."""
    if sys.platform == "win32":
        import ctypes

        drive = ctypes.windll.kernel32.GetDriveTypeW(folder.absolute().anchor)
        return "cifs" if drive == _WINDOWS_REMOTE_DRIVE else ""
    try:
        mounts = MOUNTS.read_text(encoding="utf-8", errors="replace")
    except OSError:
        return ""
    return mounted_at(mounts, Path(os.path.realpath(folder)))


def mounted_at(mounts: str, folder: Path) -> str:
    """Find in a list of mounts (proc(5), mountinfo) what a folder lies on; the last one counts."""
    found = {}
    for line in mounts.splitlines():
        before, _, after = line.partition(" - ")
        if after:
            point = Path(before.split()[4].encode().decode("unicode_escape"))
            found[point] = after.split()[0]
    points = [point for point in found if folder.is_relative_to(point)]
    return found[max(points, key=lambda point: len(point.parts))] if points else ""


def unfit(kind: str) -> str:
    """Say in words why a kind of file system holds no database; empty where it may."""
    if kind in _SHARES or (kind.startswith("fuse") and kind not in _OF_THIS_MACHINE):
        return f"a share or a drive that a program stands for ({kind})"
    return f"a stick or a file system without a journal ({kind})" if kind in _NO_JOURNAL else ""
