"""Opening sealed segments: verified and read, each by itself, so that several hands can do it."""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace

from sync.names import SegmentName
from sync.segment import BrokenSegment, Segment, open_segment


@dataclass(frozen=True)
class Sealed:
    """A segment as it was found: bytes, a name, and the key that should have sealed it."""

    name: SegmentName
    content: bytes
    public_key: str

    def opened(self) -> Segment | BrokenSegment:
        """Verify it and read every entry in it; what is broken is told, not raised."""
        try:
            segment = open_segment(self.name.file, self.content, public_key=self.public_key)
            assert segment.labels  # noqa: S101 - reads them; a segment holds an entry at least
        except BrokenSegment as broken:
            return broken
        return segment


Opened = tuple[Sealed, Segment | BrokenSegment]
Opener = Callable[[Iterable[Sealed]], Iterator[Opened]]
"""Opens segments as they come, and gives each in its order."""


def one_by_one(sealed: Iterable[Sealed]) -> Iterator[Opened]:
    """Open each when it is asked for."""
    return ((it, it.opened()) for it in sealed)


def opened_elsewhere(sealed: Sealed) -> Segment | BrokenSegment:
    """Open a segment for another process, which has its bytes already."""
    opened = sealed.opened()
    if isinstance(opened, BrokenSegment):
        return opened
    return replace(opened, content=b"", read_before=opened.labels)


def brought_back(sealed: Sealed, opened: Segment | BrokenSegment) -> Opened:
    """Give what another process opened with its bytes again."""
    if isinstance(opened, BrokenSegment):
        return sealed, opened
    return sealed, replace(opened, content=sealed.content)
