"""A folder in front of another one that counts what it is asked, and can be slow to answer.

One operation is one call of `Folder`: on a network each costs some round trips, whose number
the folder behind knows. A delay stands for them; it says nothing of the bytes.
"""

import time
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Literal

from sync.folder import Folder, Listed

Operation = Literal["listing", "read", "put", "remove"]


@dataclass
class Count:
    """What a folder was asked since the count began."""

    operations: Counter[Operation] = field(default_factory=Counter)
    names: int = 0
    """Shown by listings."""
    bytes_read: int = 0
    bytes_written: int = 0
    """Given to be put, whether they were there already or not."""

    @property
    def total(self) -> int:
        """All operations together."""
        return self.operations.total()


class CountedFolder(Folder):
    """Counts the operations on the folder behind.

    Parameters
    ----------
    folder : Folder
        The one behind.
    delay_s : float
        So long each operation takes besides. [s]
    """

    def __init__(self, folder: Folder, *, delay_s: float = 0) -> None:
        self.place = folder.place
        self.count = Count()
        self._behind = folder
        self._delay_s = delay_s

    def begin_anew(self) -> Count:
        """Give what was counted, and count from nothing."""
        counted, self.count = self.count, Count()
        return counted

    def listing(self, path: str) -> Iterable[Listed]:
        self._asked("listing")
        for listed in self._behind.listing(path):
            self.count.names += 1
            yield listed

    def read(self, path: str, *, at_most: int) -> bytes:
        self._asked("read")
        content = self._behind.read(path, at_most=at_most)
        self.count.bytes_read += len(content)
        return content

    def put(self, path: str, content: bytes) -> None:
        self._asked("put")
        self._behind.put(path, content)
        self.count.bytes_written += len(content)

    def remove(self, path: str) -> None:
        self._asked("remove")
        self._behind.remove(path)

    def _asked(self, operation: Operation) -> None:
        self.count.operations[operation] += 1
        if self._delay_s:
            time.sleep(self._delay_s)
