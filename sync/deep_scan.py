"""Looking through the whole share, and mending it.

It finds segments whose tablet died before it put its head, and files that are gone or torn;
whoever holds their bytes puts them back. Zeros under a good name have the right size, so that
files are read again too: all of a small share, of a large one another part each day.
"""

from collections.abc import Sequence

from sync.lying import lying_in, tablets_in, take_in_lying
from sync.meeting import Meeting
from sync.names import SegmentName
from sync.pushing import bytes_of, is_proved_bad, put_again_if_bad, put_identity_again_if_bad

READ_AGAIN_AT_ONCE = 2000
DAY_S = 24 * 3600.0


def deep_scan(meeting: Meeting) -> None:
    """Take in what the heads don't lead to, and mend what the share has lost."""
    tablets = tablets_in(meeting) | set(meeting.holdings.rows())
    again: list[SegmentName] = []
    for done, tablet in enumerate(sorted(tablets)):
        meeting.step("looking through", done, len(tablets))
        again += _scan_row(meeting, tablet)
    _mend_trust(meeting)
    for tablet in sorted(meeting.holdings.rows()):
        put_identity_again_if_bad(meeting, tablet)
    for name in _part_of_the_day(again, meeting.now_s()):
        put_again_if_bad(meeting, name)


def _scan_row(meeting: Meeting, tablet: str) -> list[SegmentName]:
    """Take in what lies there, mend what has another size, and give all the others.

    What this tablet was writing when it died goes: nobody else writes in its folders.
    """
    held = {it.name: it.size for it in meeting.holdings.rows().get(tablet, ())}
    found = lying_in(meeting, tablet)
    take_in_lying(meeting, tablet, found)
    if tablet in meeting.holdings.own_tablets():
        for path in found.half_written:
            meeting.remove(path)
    as_held = {name for name, size in held.items() if found.sizes.get(name) == size}
    for name in sorted(held.keys() - as_held):
        put_again_if_bad(meeting, name)
    return sorted(as_held)


def _mend_trust(meeting: Meeting) -> None:
    for name, content in meeting.holdings.trust_records():
        if is_proved_bad(meeting, name.path, bytes_of(name.hash16)):
            meeting.put(name.path, content)


def _part_of_the_day(names: Sequence[SegmentName], now_s: float) -> Sequence[SegmentName]:
    if len(names) <= READ_AGAIN_AT_ONCE:
        return names
    start = int(now_s // DAY_S) * READ_AGAIN_AT_ONCE % len(names)
    return [*names[start:], *names[:start]][:READ_AGAIN_AT_ONCE]
