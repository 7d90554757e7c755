"""What every step of an exchange is given."""

import time
from collections.abc import Callable
from dataclasses import dataclass, field

from sync.folder import Folder, NotYet, ShareFails, ShareFull, ShareReadOnly
from sync.holdings import Holdings
from sync.names import HeadName, SegmentName
from sync.outcome import Outcome, Progress, Watcher, nobody


@dataclass
class Meeting:
    """A folder, what is held here, and what the exchange has come to by now."""

    folder: Folder
    holdings: Holdings
    now_s: Callable[[], float] = time.time
    watch: Watcher = nobody
    program: str = ""
    outcome: Outcome = field(default_factory=Outcome)
    heads: set[HeadName] = field(default_factory=set)
    """The heads that the share shows, as far as is known."""
    bytes_done: int = 0
    to_read: int = 0
    """So many segments are to come in, as far as the heads tell."""
    began_s: float = field(default_factory=time.monotonic)

    def held(self, tablet: str) -> set[SegmentName]:
        """Give the names of a tablet's segments that are held here."""
        return {held.name for held in self.holdings.rows().get(tablet, ())}

    def tablet(self) -> str:
        """Give the id that this tablet goes by now."""
        return self.holdings.own_tablets()[-1]

    def put(self, path: str, content: bytes) -> bool:
        """Put a file, and tell whether it is there now.

        What something stands in the way of waits for the next exchange, and the others go on.
        Where nothing more can be written at all, what others sent is read all the same.
        """
        if self.outcome.only_read:
            return False
        try:
            self.folder.put(path, content)
        except NotYet:
            self.outcome.waiting.append(path)
        except (ShareReadOnly, ShareFull, ShareFails) as trouble:
            self.outcome.only_read = str(trouble)
        else:
            return True
        return False

    def remove(self, path: str) -> bool:
        """Take an own file away, and tell whether it is gone; one that is held open may stay."""
        try:
            self.folder.remove(path)
        except (NotYet, ShareReadOnly):
            return False
        return True

    def take_new_identity(self) -> None:
        """Go by a new key from now on: somebody else goes by this one."""
        self.holdings.begin_anew()
        self.outcome.new_identity = self.tablet()

    def has_read(self, size: int = 0) -> None:
        """Tell the watcher how much has come in; it may stop the exchange here."""
        done = len(self.outcome.received)
        self.step("reading", done, max(self.to_read, done), size)

    def step(self, doing: str, done: int, of: int, size: int = 0) -> None:
        """Tell the watcher how far it is; it may stop the exchange here."""
        self.bytes_done += size
        elapsed_s = time.monotonic() - self.began_s
        self.watch(Progress(doing, done, of, self.bytes_done, elapsed_s))
