"""Looking through the whole share, whatever the heads say.

It finds segments whose tablet died before it put its head, and files that are gone or torn;
whoever holds their bytes puts them back.
"""

from collections.abc import Iterator

from sync.meeting import Meeting
from sync.names import TABLETS, SegmentName, buckets_of, is_bucket, is_tablet
from sync.pulling import fetch
from sync.pushing import put_again_if_bad


def deep_scan(meeting: Meeting) -> None:
    """Take in what the heads don't lead to, and mend what the share has lost."""
    tablets = {it.name for it in meeting.folder.listing(TABLETS) if is_tablet(it.name)}
    known = set(meeting.holdings.rows())
    for done, tablet in enumerate(sorted(tablets | known)):
        meeting.step("looking through", done, len(tablets | known))
        _scan_row(meeting, tablet)


def _scan_row(meeting: Meeting, tablet: str) -> None:
    lying = dict(_lying(meeting, tablet))
    sizes = {it.name: it.size for it in meeting.holdings.rows().get(tablet, ())}
    for name in sorted(lying.keys() - sizes.keys()):
        fetch(meeting, name)
    if not meeting.outcome.only_read:
        for name in sorted(name for name, size in sizes.items() if lying.get(name) != size):
            put_again_if_bad(meeting, name)


def _lying(meeting: Meeting, tablet: str) -> Iterator[tuple[SegmentName, int]]:
    """Yield the segments that lie there, with their sizes."""
    root = buckets_of(tablet)
    for folder in meeting.folder.listing(root):
        if is_bucket(folder.name):
            for listed in meeting.folder.listing(f"{root}/{folder.name}"):
                name = SegmentName.of_file(tablet, listed.name)
                if name is not None:
                    yield name, listed.size
