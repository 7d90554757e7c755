"""Programs that only tests need: they move a real pointer, or break a disk on purpose."""

import shutil
import sys
from pathlib import Path

from fieldapp.first_run import machine
from fieldapp.first_run.telling import tell
from schemas.trouble import Trouble

POSTGRESQL = Path("/usr/lib/postgresql")


def postgres_programs() -> Path | None:
    """Give the folder of the newest PostgreSQL server that is installed."""
    found = sorted(POSTGRESQL.glob("*/bin/initdb"), key=lambda path: int(path.parts[-3]))
    somewhere = str(found[-1]) if found else shutil.which("initdb")
    return Path(somewhere).parent if somewhere else None


NEEDS = (
    machine.program("xdotool", "xdotool", "xdotool", "xdotool", "xdotool"),
    machine.program("strace", "strace", "strace", "strace", "strace"),
    machine.program("smbd", "samba", "samba", "samba", "samba"),
    machine.program("mkfs.exfat", "exfatprogs", "exfatprogs", "exfatprogs", "exfatprogs"),
    machine.program("mount.exfat-fuse", "exfat-fuse", "fuse-exfat", "exfat-utils", "exfat-utils"),
    machine.Need(
        "PostgreSQL's server",
        ("postgresql", "postgresql-server", "postgresql", "postgresql-server"),
        lambda: postgres_programs() is not None,
    ),
    machine.program("mkfs.ext4", "e2fsprogs", "e2fsprogs", "e2fsprogs", "e2fsprogs"),
)


def missing() -> list[str]:
    """Install them where that is allowed; tell and give what can't be had."""
    if sys.platform != "linux":
        return []
    try:
        machine.provide(NEEDS)
    except Trouble as trouble:
        tell(trouble)
        return [f"{need.name}: it is not installed" for need in NEEDS if not need.is_there()]
    return []
