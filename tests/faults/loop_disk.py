"""A real, small file system of our own: an image file, made and mounted for one test."""

import os
import shutil
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from tests.not_tried import not_tried

MEGABYTE = 1024 * 1024


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
def loop_disk(place: Path, *, megabytes: int, what: str) -> Iterator[LoopDisk]:
    """Make an ext4 file system in a file and mount it; `what` is said where that can't be."""
    image = place / "disk.img"
    with image.open("wb") as file:
        file.truncate(megabytes * MEGABYTE)
    _run_or_not_tried(["mkfs.ext4", "-q", "-F", "-m", "0", str(image)], what)
    with mounted(image, place / "disk", what=what) as folder:
        yield LoopDisk(image, folder)


@contextmanager
def mounted(image: Path, folder: Path, *, what: str) -> Iterator[Path]:
    """Mount an image as a disk; the file system first replays its own journal, as at a start."""
    folder.mkdir()
    _run_or_not_tried(["mount", "-o", "loop", str(image), str(folder)], what)
    try:
        yield folder
    finally:
        subprocess.run(["umount", str(folder)], check=True)  # noqa: S603, S607


def _run_or_not_tried(command: list[str], what: str) -> None:
    if os.name != "posix" or os.geteuid() != 0:
        not_tried(what, "only root may mount a file system")
    if not shutil.which(command[0]):
        not_tried(what, f"{command[0]} is not installed")
    run = subprocess.run(command, capture_output=True, text=True, check=False)  # noqa: S603
    if run.returncode != 0:
        not_tried(what, f"{' '.join(command)} failed: {run.stderr.strip()}")
