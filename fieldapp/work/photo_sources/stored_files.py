"""The pictures that lie in a folder, be they whole or not: for whoever picks one by hand."""

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Final

ENDINGS: Final = (".jpg", ".jpeg", ".png", ".webp")
MOST: Final = 5_000
"""A folder of more is looked at no further: it is a year of somebody's photos."""


@dataclass(frozen=True)
class Lying:
    """A file as it was found at one look."""

    path: Path
    size: int
    changed_ns: int


def pictures_in(folder: Path) -> tuple[Lying, ...]:
    """Give a folder's pictures, the newest first; none of a folder that is not there."""
    found = sorted(_pictures(folder), key=lambda it: (-it.changed_ns, it.path.name))
    return tuple(found[:MOST])


def _pictures(folder: Path) -> Iterator[Lying]:
    try:
        for path in folder.iterdir():
            if path.suffix.lower() in ENDINGS and not path.name.startswith("."):
                facts = path.stat()
                if path.is_file():
                    yield Lying(path, facts.st_size, facts.st_mtime_ns)
    except OSError:  # pulled out meanwhile, or not ours to look into: it has nothing more
        return


@dataclass(frozen=True)
class StoredFiles:
    """A folder that a person chose."""

    folder: Path

    def photos(self) -> tuple[Path, ...]:
        """Give its pictures, the newest first."""
        return tuple(it.path for it in pictures_in(self.folder))
