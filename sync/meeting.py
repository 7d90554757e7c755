"""What every step of an exchange is given."""

import time
from collections.abc import Callable
from dataclasses import dataclass, field

from sync.folder import Folder
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

    def held(self, tablet: str) -> set[SegmentName]:
        """Give the names of a tablet's segments that are held here."""
        return {held.name for held in self.holdings.rows().get(tablet, ())}

    def step(self, doing: str, done: int, of: int, size: int = 0) -> None:
        """Tell the watcher how far it is; it may stop the exchange here."""
        self.bytes_done += size
        self.watch(Progress(doing, done, of, self.bytes_done))
