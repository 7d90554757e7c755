"""What every step of reading a share is given."""

import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from functools import cache

from sync.belief import segment_counts
from sync.folder import Folder, Listed
from sync.holdings import Archive
from sync.names import HEADS, HeadName, SegmentName
from sync.opening import Opener, one_by_one
from sync.outcome import Outcome, Progress, Watcher, nobody

LOOKS_FOR_S = 20.0
MOST_NAMES = 500_000
"""A folder with more names, or that is slower to tell them, is not looked at to its end."""
MANY_NAMES = 10_000
"""No folder of ours holds so many: another program fills it."""


@dataclass
class Visit:
    """A folder that is read, what is held of it, and what the reading has come to by now."""

    folder: Folder
    holdings: Archive
    now_s: Callable[[], float] = time.time
    watch: Watcher = nobody
    outcome: Outcome = field(default_factory=Outcome)
    heads: set[HeadName] = field(default_factory=set)
    """The heads that the share shows, as far as is known."""
    opener: Opener = one_by_one
    """What opens the segments that come in."""
    missed: set[SegmentName] = field(default_factory=set)
    """What somebody says to have sealed and the share does not show."""
    bytes_done: int = 0
    to_read: int = 0
    """So many segments are to come in, as far as the heads tell."""
    began_s: float = field(default_factory=time.monotonic)

    def look(self, path: str) -> Iterator[Listed]:
        """Give what a folder shows; what fills one without end may not hold up the reading.

        To be read at once: the time counts until the last name.
        """
        until_s = time.monotonic() + LOOKS_FOR_S
        seen = 0
        for listed in self.folder.listing(path):
            yield listed
            seen += 1
            if seen >= MOST_NAMES or time.monotonic() > until_s:
                self.outcome.cut_short.add(path)
                break
        if seen > MANY_NAMES:
            self.outcome.crowded[path] = seen

    def look_at_heads(self) -> None:
        """See which heads the share shows."""
        listed = (HeadName.of_file(it.name) for it in self.look(HEADS))
        self.heads = {name for name in listed if name is not None}

    def held(self, tablet: str) -> set[SegmentName]:
        """Give the names of a tablet's segments that are held here."""
        return {held.name for held in self.holdings.rows().get(tablet, ())}

    def took_in(self, name: SegmentName, entries: int) -> None:
        """Note that a segment is held now that was not."""
        self.outcome.received.append(name)
        self.outcome.entries_received += entries

    def name_odd_tablets(self) -> None:
        """Name the tablets that nobody vouches for, and those of which two rows go by one key."""
        trust, rows = self.holdings.trust(), self.holdings.rows()
        identity = cache(self.holdings.identity)
        self.outcome.unverified = {
            it.tablet
            for it in self.outcome.received
            if not segment_counts(trust, identity, it, rows.get(it.tablet, ()))
        }
        self.outcome.forks = [
            tablet for tablet, row in rows.items() if len({it.name.seq for it in row}) < len(row)
        ]

    def has_read(self, size: int = 0) -> None:
        """Tell the watcher how much has come in; it may stop the reading here."""
        done = len(self.outcome.received)
        self.step("reading", done, max(self.to_read, done), size)

    def step(self, doing: str, done: int, of: int, size: int = 0) -> None:
        """Tell the watcher how far it is; it may stop the reading here."""
        self.bytes_done += size
        elapsed_s = time.monotonic() - self.began_s
        self.watch(Progress(doing, done, of, self.bytes_done, elapsed_s))
