"""The folder that the tablet's own camera app writes into, looked at again and again.

The camera app has light, focus and exposure, which matter more underground than a preview.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Final

from fieldapp.work.photo.picture_parts import ends
from schemas.bodies.photo import LARGEST_BYTES

ENDINGS: Final = (".jpg", ".jpeg", ".png", ".webp")
MOST: Final = 5_000
"""A folder of more is looked at no further: it is a year of somebody's photos."""


@dataclass(frozen=True)
class Lying:
    """A file as it was found at one look."""

    path: Path
    size: int
    changed_ns: int


class CameraFolder:
    """Gives a photo once it lies there whole.

    A camera takes its time to write: a file waits until two looks find it unchanged *and* the
    picture's own end is in it. One that never gets its end, and what was there `since` before,
    is picked by hand.
    """

    def __init__(self, folder: Path, since: datetime) -> None:
        self._folder = folder
        self._since_s = since.timestamp()
        self._seen: frozenset[Lying] = frozenset()
        self._whole: dict[Lying, bool] = {}

    def photos(self) -> tuple[Path, ...]:
        """Give the photos that lie there whole, the newest first."""
        lying = [it for it in _pictures_in(self._folder) if it.changed_ns >= self._since_s * 1e9]
        unchanged = [it for it in lying if it in self._seen]
        self._seen = frozenset(lying)
        self._whole = {it: self._is_whole(it) for it in unchanged}
        return tuple(it.path for it in unchanged if self._whole[it])

    def waiting(self) -> int:
        """Say how many files were there at the last look and can't be taken yet."""
        return len(self._seen) - sum(self._whole.values())

    def _is_whole(self, file: Lying) -> bool:
        if self._whole.get(file):
            return True
        if not 0 < file.size <= LARGEST_BYTES:
            return False
        try:
            return ends(file.path.read_bytes())
        except OSError:  # taken away since it was listed
            return False


def _pictures_in(folder: Path) -> tuple[Lying, ...]:
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
