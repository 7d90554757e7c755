"""What lies in the share's folders, whatever the heads say.

It is looked at for segments whose tablet died before it put its head, and for those that a
cloud's client has renamed.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from sync.folder import Listed
from sync.names import TABLETS, SegmentName, buckets_of, is_bucket, is_tablet, is_temporary
from sync.pulling import fetch, fetch_all
from sync.visit import Visit

STEM = len("00000001-0123456789abcdef")


@dataclass(frozen=True)
class Lying:
    """What lies in the folders of one tablet."""

    sizes: dict[SegmentName, int] = field(default_factory=dict)
    """The segments, with their sizes. [bytes]"""
    strays: dict[SegmentName, list[str]] = field(default_factory=dict)
    """The paths of what was a segment and bears another name now."""
    half_written: list[str] = field(default_factory=list)
    """The paths of what somebody is writing, or was."""


def tablets_in(visit: Visit) -> set[str]:
    """Give the tablets that have a folder in the share."""
    return {it.name for it in visit.look(TABLETS) if is_tablet(it.name)}


def lying_in(visit: Visit, tablet: str) -> Lying:
    """Give what lies in the folders of a tablet."""
    found = Lying()
    for path, listed in _files(visit, tablet):
        name = SegmentName.of_file(tablet, listed.name)
        if name is not None:
            found.sizes[name] = listed.size
        elif (renamed := SegmentName.of_file(tablet, f"{listed.name[:STEM]}.seg")) is not None:
            found.strays.setdefault(renamed, []).append(path)
        elif is_temporary(listed.name):
            found.half_written.append(path)
    return found


def take_in_lying(visit: Visit, tablet: str, found: Lying) -> None:
    """Take in of a tablet whatever lies there and is not held, the oldest first."""
    held = visit.held(tablet)
    held |= fetch_all(visit, sorted(found.sizes.keys() - held))
    for name in sorted(found.strays.keys() - held):
        _adopt(visit, name, found.strays[name])


def _adopt(visit: Visit, name: SegmentName, lying_at: Iterable[str]) -> None:
    """Take in a segment that a cloud's client has renamed, if its bytes are right."""
    for path in lying_at:
        if fetch(visit, name, lying_at=path):
            return


def _files(visit: Visit, tablet: str) -> Iterator[tuple[str, Listed]]:
    root = buckets_of(tablet)
    for below in visit.look(root):
        if is_bucket(below.name):
            for listed in visit.look(f"{root}/{below.name}"):
                yield f"{root}/{below.name}/{listed.name}", listed
