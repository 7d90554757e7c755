"""Photographs on their way: after the entries that name them, whole, and verified by their hash.

A photo's file is named for its bytes, so that any holder may put it and nobody can put another
in its place. It may be freed on a tablet once another machine has said that it holds it.
"""

from collections.abc import Mapping
from functools import partial

from schemas.bodies.photo import LARGEST_BYTES
from sync.folder import NotThere, NotYet
from sync.meeting import Meeting
from sync.names import PhotoName
from sync.photo_shelf import PhotoShelf, is_of
from sync.pulling import bad_file
from sync.pushing import AUDITED_AFTER_S, is_proved_bad

AUDITED_AT_ONCE = 5


def send_photos(meeting: Meeting, shelf: PhotoShelf) -> None:
    """Put every photo that is held here and not in the share; look again at the unconfirmed."""
    published = shelf.published()
    missing = sorted(shelf.held() - published.keys())
    for done, name in enumerate(missing):
        content = shelf.content(name)
        if content is None:
            meeting.outcome.photos_lost.append(name.path)
            continue
        meeting.step("sending photos", done, len(missing), len(content))
        if meeting.put(name.path, content):
            shelf.set_published([name], meeting.now_s())
            meeting.outcome.photos_sent.append(name.path)
    _audit(meeting, shelf, published)


def bring_photos(meeting: Meeting, shelf: PhotoShelf) -> None:
    """Bring the photos that are wanted and not here; tell which have not come yet."""
    missing = sorted(set(meeting.photos_wanted()) - shelf.held())
    brought: list[PhotoName] = []
    for done, name in enumerate(missing):
        meeting.step("reading photos", done, len(missing))
        if _bring(meeting, shelf, name):
            brought.append(name)
    if brought:
        shelf.set_published(brought, meeting.now_s())


def acknowledge_photos(shelf: PhotoShelf) -> None:
    """Say of photos that others took and that nobody has confirmed that they are held here."""
    said = shelf.acknowledged()
    news = sorted(it for it in shelf.brought() if it.sha256 not in said)
    if news:
        shelf.acknowledge(news)


def _bring(meeting: Meeting, shelf: PhotoShelf, name: PhotoName) -> bool:
    try:
        content = meeting.folder.read(name.path, at_most=LARGEST_BYTES)
    except (NotThere, NotYet):
        meeting.outcome.photos_waiting.append(name.path)
        return False
    if not is_of(name, content):
        bad_file(meeting, name.path, "its bytes do not fit its name")
        return False
    shelf.take_in(name, content)
    meeting.holdings.note_good(name.path)
    meeting.outcome.photos_received.append(name.path)
    return True


def _audit(meeting: Meeting, shelf: PhotoShelf, published: Mapping[PhotoName, float]) -> None:
    """Read again what nobody has confirmed; put again what is proved lost or torn."""
    said, now_s = shelf.acknowledged(), meeting.now_s()
    due = sorted(
        (at_s, name)
        for name, at_s in published.items()
        if name.sha256 not in said and not 0 <= now_s - at_s < AUDITED_AFTER_S
    )
    for _, name in due[:AUDITED_AT_ONCE]:
        content = shelf.content(name)
        if content is not None and is_proved_bad(
            meeting, name.path, partial(is_of, name), LARGEST_BYTES
        ):
            meeting.put(name.path, content)
            meeting.outcome.repaired.append(name.path)
        shelf.set_published([name], now_s)
