"""What one exchange came to, in numbers and names: what went out, came in, waits, was refused."""

from collections.abc import Callable
from dataclasses import dataclass, field

from sync.names import SegmentName, TrustName


@dataclass
class Outcome:
    """Filled while the exchange goes on; what stands in it has happened."""

    sent: list[SegmentName] = field(default_factory=list)
    received: list[SegmentName] = field(default_factory=list)
    entries_received: int = 0
    refused: dict[str, str] = field(default_factory=dict)
    """Why, by path."""
    waiting: list[str] = field(default_factory=list)
    """Paths that are not there yet or can't be read now."""
    photos_sent: list[str] = field(default_factory=list)
    photos_received: list[str] = field(default_factory=list)
    photos_waiting: list[str] = field(default_factory=list)
    """Photos that entries name and that have not come into the share yet."""
    photos_lost: list[str] = field(default_factory=list)
    """Photos of this machine whose bytes are gone before they were shared."""
    repaired: list[str] = field(default_factory=list)
    forks: list[str] = field(default_factory=list)
    """Tablets of which two rows go by one key."""
    new_identity: str = ""
    """The id that this tablet took because somebody else goes by its old one."""
    trust_written: int = 0
    """The number of the record of trust that this machine wrote into the share since it exchanged
    last; 0 for none."""
    trust_received: list[TrustName] = field(default_factory=list)
    trust_set_back: bool = False
    unverified: set[str] = field(default_factory=set)
    """Tablets whose entries are kept and not believed."""
    only_read: str = ""
    """Why nothing, or no more, was sent; a sentence a line."""
    crowded: dict[str, int] = field(default_factory=dict)
    """Folders that hold far more names than ours, and how many were seen."""
    cut_short: set[str] = field(default_factory=set)
    """Folders that were not looked at to their end: they prove nothing by what they don't show."""
    stopped: bool = False


@dataclass(frozen=True)
class Progress:
    """How far the exchange is."""

    doing: str
    done: int
    of: int
    bytes_done: int
    elapsed_s: float
    """Since the exchange began."""


class Stopped(Exception):
    """A person stopped the exchange; what was done is done."""


Watcher = Callable[[Progress], None]
"""Told of each step; raises `Stopped` to stop."""


def nobody(_progress: Progress) -> None:
    """Watch nothing."""
