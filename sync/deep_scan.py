"""Looking through the whole share, whatever the heads say.

It finds segments whose tablet died before it put its head, and files that are gone or torn;
whoever holds their bytes puts them back. Zeros under a good name have the right size, so that
files are read again too: all of a small share, of a large one another part each day.
"""

from collections.abc import Iterable, Iterator, Sequence

from sync.folder import Listed
from sync.meeting import Meeting
from sync.names import TABLETS, SegmentName, buckets_of, is_bucket, is_tablet, is_temporary
from sync.pulling import fetch
from sync.pushing import bytes_of, is_proved_bad, put_again_if_bad, put_identity_again_if_bad

READ_AGAIN_AT_ONCE = 2000
DAY_S = 24 * 3600.0
STEM = len("00000001-0123456789abcdef")

Sizes = dict[SegmentName, int]
Strays = dict[SegmentName, list[str]]


def deep_scan(meeting: Meeting) -> None:
    """Take in what the heads don't lead to, and mend what the share has lost."""
    tablets = {it.name for it in meeting.folder.listing(TABLETS) if is_tablet(it.name)}
    known = set(meeting.holdings.rows())
    again: list[SegmentName] = []
    for done, tablet in enumerate(sorted(tablets | known)):
        meeting.step("looking through", done, len(tablets | known))
        again += _scan_row(meeting, tablet)
    _mend_trust(meeting)
    for tablet in sorted(meeting.holdings.rows()):
        put_identity_again_if_bad(meeting, tablet)
    for name in _part_of_the_day(again, meeting.now_s()):
        put_again_if_bad(meeting, name)


def _scan_row(meeting: Meeting, tablet: str) -> list[SegmentName]:
    """Take in what lies there, mend what has another size, and give all the others."""
    lying, strays = _lying(meeting, tablet)
    sizes = {it.name: it.size for it in meeting.holdings.rows().get(tablet, ())}
    for name in sorted(lying.keys() - sizes.keys()):
        if not fetch(meeting, name):
            _adopt(meeting, name, strays.get(name, ()))
    for name in sorted(strays.keys() - lying.keys() - sizes.keys()):
        _adopt(meeting, name, strays[name])
    for name in sorted(name for name, size in sizes.items() if lying.get(name) != size):
        put_again_if_bad(meeting, name)
    return sorted(name for name, size in sizes.items() if lying.get(name) == size)


def _mend_trust(meeting: Meeting) -> None:
    for name, content in meeting.holdings.trust_records():
        if is_proved_bad(meeting, name.path, bytes_of(name.hash16)):
            meeting.put(name.path, content)


def _part_of_the_day(names: Sequence[SegmentName], now_s: float) -> Sequence[SegmentName]:
    if len(names) <= READ_AGAIN_AT_ONCE:
        return names
    start = int(now_s // DAY_S) * READ_AGAIN_AT_ONCE % len(names)
    return [*names[start:], *names[:start]][:READ_AGAIN_AT_ONCE]


def _adopt(meeting: Meeting, name: SegmentName, lying_at: Iterable[str]) -> None:
    """Take in a segment that a cloud's client has renamed, if its bytes are right."""
    for path in lying_at:
        if fetch(meeting, name, lying_at=path):
            return


def _lying(meeting: Meeting, tablet: str) -> tuple[Sizes, Strays]:
    """Give the segments that lie there, with their sizes, and what was one and was renamed.

    What this tablet was writing when it died goes: nobody else writes in its folders.
    """
    sizes: Sizes = {}
    strays: Strays = {}
    own = tablet in meeting.holdings.own_tablets()
    for path, listed in _files(meeting, tablet):
        name = SegmentName.of_file(tablet, listed.name)
        if name is not None:
            sizes[name] = listed.size
        elif (renamed := SegmentName.of_file(tablet, f"{listed.name[:STEM]}.seg")) is not None:
            strays.setdefault(renamed, []).append(path)
        elif own and is_temporary(listed.name):
            meeting.remove(path)
    return sizes, strays


def _files(meeting: Meeting, tablet: str) -> Iterator[tuple[str, Listed]]:
    root = buckets_of(tablet)
    for folder in meeting.folder.listing(root):
        if is_bucket(folder.name):
            for listed in meeting.folder.listing(f"{root}/{folder.name}"):
                yield f"{root}/{folder.name}/{listed.name}", listed
