"""A real, small file system of our own: an image file, made and mounted for one test."""

import os
import shutil
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from fieldapp.first_run.machine import has_program
from tests.not_tried import not_tried

MEGABYTE = 1024 * 1024


@dataclass(frozen=True)
class Kind:
    """How a file system is made, and what mounts it."""

    make: tuple[str, ...]
    mount: str


EXT4 = Kind(("mkfs.ext4", "-q", "-F", "-m", "0"), "ext4")
EXFAT = Kind(("mkfs.exfat",), "exfat-fuse")
"""What sticks are sold with: no journal, no links, names in whichever case."""


@dataclass(frozen=True)
class LoopDisk:
    """The image, and the folder where what it holds is seen."""

    image: Path
    folder: Path

    def copied_to(self, image: Path) -> Path:
        """Copy what the disk itself holds at this moment: what a power cut would leave.

        What the system only means to write later is not in the image.
        """
        shutil.copyfile(self.image, image)
        return image


@contextmanager
def loop_disk(place: Path, *, megabytes: int, what: str, kind: Kind = EXT4) -> Iterator[LoopDisk]:
    """Make a file system in a file and mount it; `what` is said where that can't be."""
    image = place / "disk.img"
    with image.open("wb") as file:
        file.truncate(megabytes * MEGABYTE)
    _run_or_not_tried([*kind.make, str(image)], what)
    with mounted(image, place / "disk", what=what, kind=kind) as folder:
        yield LoopDisk(image, folder)


@contextmanager
def mounted(image: Path, folder: Path, *, what: str, kind: Kind = EXT4) -> Iterator[Path]:
    """Mount an image as a disk; the file system first replays its own journal, as at a start."""
    folder.mkdir()
    _run_or_not_tried(["mount", "-t", kind.mount, "-o", "loop", str(image), str(folder)], what)
    assert folder.is_mount(), "what follows would be written to the machine's own disk"
    try:
        yield folder
    finally:
        subprocess.run(["umount", str(folder)], check=True)  # noqa: S603, S607


def _run_or_not_tried(command: list[str], what: str) -> None:
    if os.name != "posix" or os.geteuid() != 0:
        not_tried(what, "only root may mount a file system")
    if not has_program(command[0]):
        not_tried(what, f"{command[0]} is not installed")
    run = subprocess.run(command, capture_output=True, text=True, check=False)  # noqa: S603
    if run.returncode != 0:
        not_tried(what, f"{' '.join(command)} failed: {run.stderr.strip()}")
